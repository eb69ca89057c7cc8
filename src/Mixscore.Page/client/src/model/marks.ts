import type { Bar, Source } from './project';

/** A mark or a pin as it is written in the plan; see the server's WrittenMarks. */
export interface Written {
  key: string;
  text: string;
  /** Quarters. */
  at: number;
  until: number | null;
  /** LU of a mark, dB of a pin; `null` where it is off or leans on others. */
  start: number | null;
  end: number | null;
}

/** A place on a level line that a hand can take: a mark's beginning, a range's end, or a vertex of the ride. */
export interface Handle {
  kind: 'start' | 'end' | 'vertex';
  /** Which mark, or which vertex. */
  index: number;
  at: number;
  value: number | null;
}

export const levelStep = 0.5;

/** The places that a hand can take on a source's line. */
export function handlesOf(source: Source): Handle[] {
  const marks = source.marks.flatMap((mark, index): Handle[] => [
    { kind: 'start', index, at: mark.at, value: mark.start },
    ...(mark.until === null ? [] : [{ kind: 'end' as const, index, at: mark.until, value: mark.end }]),
  ]);
  const vertices: Handle[] = [];
  for (let i = 0; i < source.ride.length; i += 2) vertices.push({ kind: 'vertex', index: i / 2, at: source.ride[i] as number, value: source.ride[i + 1] ?? null });
  return [...marks, ...vertices];
}

/** The pin that stands at a place; `null` for none. */
export const pinAt = (source: Source, at: number) => source.pins.find((pin) => pin.until === null && Math.abs(pin.at - at) < 1e-4) ?? null;

/** A number as a person writes it in a plan. */
export const written = (value: number) => String(Math.round(value * 100) / 100);

/** What stands behind a level and is not one: `clear 4 LU`. */
const behind = (text: string) => / clear .*$/i.exec(text)?.[0] ?? '';

/** A mark's level with one of its ends elsewhere; `null` where it has no number to move. */
export function levelWith(mark: Written, kind: 'start' | 'end', value: number): string | null {
  if (mark.until === null) return /^(under|over)\s/i.test(mark.text) ? null : written(value) + behind(mark.text);
  const [from, to] = [kind === 'start' ? value : mark.start, kind === 'end' ? value : mark.end];
  const words = mark.text.replace(/ clear .*$/i, '').split('>').map((part) => part.trim());
  const word = (is: number | null, own: boolean, was: string | undefined) => (own && is !== null ? written(is) : (was ?? 'off'));
  if (words.length === 1) return from === to ? written(value) + behind(mark.text) : `${word(from, kind === 'start', words[0])} > ${word(to, kind === 'end', words[0])}${behind(mark.text)}`;
  return `${word(from, kind === 'start', words[0])} > ${word(to, kind === 'end', words[1])}${behind(mark.text)}`;
}

/** The beats of a piece, in quarters. */
export const beatsOf = (bars: Bar[]): number[] => bars.flatMap((bar) => bar.beats);

/** The beat nearest to a place. */
export function nearestBeat(beats: number[], at: number): number {
  let best = 0;
  for (const beat of beats) if (Math.abs(beat - at) < Math.abs(best - at)) best = beat;
  return best;
}

/** The beat so many on from a place, not past either end. */
export function beatFrom(beats: number[], at: number, by: number): number {
  const here = beats.indexOf(nearestBeat(beats, at));
  return beats[Math.max(0, Math.min(beats.length - 1, here + by))]!;
}

/** A mark's two positions as they are written. */
export function positions(key: string): [string, string] {
  const [from, to] = key.split('..');
  return [from!.trim(), to?.trim() ?? ''];
}
