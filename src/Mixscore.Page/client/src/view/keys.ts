/** Every key of the page and what it does; the help sheet is made of the same list. */
export const keys: { keys: string[]; act: string; says: string }[] = [
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
  { keys: ['f'], act: 'follow', says: 'follow the playhead, or not' },
  { keys: ['+', '='], act: 'larger', says: 'larger score' },
  { keys: ['-'], act: 'smaller', says: 'smaller score' },
  { keys: ['v'], act: 'endless', says: 'systems, or one strip without line breaks' },
  { keys: ['t'], act: 'theme', says: 'dark or light' },
  { keys: ['?'], act: 'help', says: 'this sheet' },
];

/** The keys that a strip takes while it has the focus. */
export const stripKeys: { keys: string; says: string }[] = [
  { keys: '↑ ↓', says: 'take it, 0.1 dB' },
  { keys: 'Shift ↑ ↓', says: 'take it, 1 dB' },
  { keys: 'Alt ↑ ↓', says: 'offset on top of the plan, 0.1 dB' },
  { keys: 'Home, End', says: 'to 0 dB, off' },
  { keys: 'Backspace', says: 'hand it back' },
  { keys: 'o', says: 'solo' },
  { keys: 'm', says: 'mute' },
  { keys: 'e', says: 'move it together with the others that are marked' },
];

/** What a key asks of the page; nothing while text is typed, and nothing that a focused control takes itself. */
export function keyFor(event: KeyboardEvent): string | null {
  if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return null;
  const target = event.target as HTMLElement | null;
  if (target?.closest('input, select, textarea')) return null;
  const onControl = target?.closest('button, a, summary, [role=slider]');
  if (onControl && (event.key === ' ' || event.key === 'Enter')) return null;
  return keys.find((one) => one.keys.includes(event.key))?.act ?? null;
}
