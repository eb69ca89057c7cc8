export interface Key {
  keys: string[];
  act: string;
  says: string;
}

const looks: Key[] = [
  { keys: ['f'], act: 'follow', says: 'follow the playhead, or not' },
  { keys: ['+', '='], act: 'larger', says: 'larger score' },
  { keys: ['-'], act: 'smaller', says: 'smaller score' },
  { keys: ['v'], act: 'endless', says: 'systems, or one strip without line breaks' },
  { keys: ['L'], act: 'log', says: 'a night’s log over the score' },
  { keys: ['m'], act: 'surface', says: 'a MIDI fader controller' },
  { keys: ['t'], act: 'theme', says: 'dark or light' },
  { keys: ['?'], act: 'help', says: 'this sheet' },
];

/** Every key of the page in a rehearsal and what it does; the help sheet is made of the same list. */
export const keys: Key[] = [
  { keys: [' '], act: 'play', says: 'play or pause' },
  { keys: ['ArrowLeft'], act: 'back', says: 'a bar back' },
  { keys: ['ArrowRight'], act: 'forward', says: 'a bar on' },
  { keys: ['['], act: 'letterBack', says: 'to the letter before' },
  { keys: [']'], act: 'letterForward', says: 'to the next letter' },
  { keys: ['g'], act: 'goTo', says: 'go to a position' },
  { keys: ['l'], act: 'loop', says: 'loop four bars from here, or end the loop' },
  { keys: ['h'], act: 'hold', says: 'hold all faders' },
  { keys: ['a'], act: 'allBack', says: 'all back to the plan' },
  { keys: ['s'], act: 'strips', says: 'to the first strip' },
  { keys: ['e'], act: 'edit', says: 'edit the marks, or only read them' },
  { keys: ['d'], act: 'marks', says: 'to the first mark in sight' },
  { keys: ['n'], act: 'newMark', says: 'a new mark at this bar' },
  { keys: ['z', 'Z'], act: 'undo', says: 'undo; with Shift, redo' },
  ...looks,
];

/** In a performance. What cannot be taken back takes a capital. */
export const performKeys: Key[] = [
  { keys: ['A'], act: 'arm', says: 'arm or disarm: twice, the second time to confirm' },
  { keys: [' '], act: 'start', says: 'start, with the count-in' },
  { keys: ['X'], act: 'stop', says: 'stop' },
  { keys: ['s'], act: 'stay', says: 'stay on the bar' },
  { keys: ['S'], act: 'still', says: 'stand still' },
  { keys: ['r'], act: 'release', says: 'release: go on' },
  { keys: ['g'], act: 'goTo', says: 'a position, to start at or to jump to at the next barline' },
  { keys: ['h'], act: 'hold', says: 'hold all faders' },
  { keys: ['a'], act: 'allBack', says: 'all back to the plan' },
  { keys: ['1', '2', '3', '4', '5', '6', '7', '8', '9'], act: 'strip', says: 'to a strip, by its place' },
  { keys: ['n'], act: 'note', says: 'a note for the log' },
  { keys: ['c'], act: 'hand', says: 'ask for the hand' },
  ...looks,
];

/** The keys that a strip takes while it has the focus. */
export const stripKeys: { keys: string; says: string; rehearsalOnly?: boolean }[] = [
  { keys: '↑ ↓', says: 'take it, 0.1 dB' },
  { keys: 'Shift ↑ ↓', says: 'take it, 1 dB' },
  { keys: 'Alt ↑ ↓', says: 'offset on top of the plan, 0.1 dB' },
  { keys: 'Home, End', says: 'to 0 dB, off' },
  { keys: 'Backspace', says: 'hand it back' },
  { keys: 'o', says: 'solo', rehearsalOnly: true },
  { keys: 'm', says: 'mute', rehearsalOnly: true },
  { keys: 'e', says: 'move it together with the others that are marked' },
];

/** The keys that a mark or a vertex takes while it has the focus. */
export const handleKeys: { keys: string; says: string }[] = [
  { keys: '↑ ↓', says: 'half a LU or dB; with Shift, three' },
  { keys: '← →', says: 'a beat; with Shift, four' },
  { keys: 'Enter', says: 'type its level; pin a vertex, or let it go' },
  { keys: 'Delete', says: 'take the mark out' },
];

/** What a key asks of the page; nothing while text is typed, and nothing that a focused control takes itself. */
export function keyFor(event: KeyboardEvent, of: Key[] = keys): string | null {
  if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return null;
  const target = event.target as HTMLElement | null;
  if (target?.closest('input, select, textarea')) return null;
  const onControl = target?.closest('button, a, summary, [role=slider]');
  if (onControl && (event.key === ' ' || event.key === 'Enter')) return null;
  return of.find((one) => one.keys.includes(event.key))?.act ?? null;
}
