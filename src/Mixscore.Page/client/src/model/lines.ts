import type { Line } from './project';

/** The value of a line at a place: straight between its points; `null` outside them and where it has a gap. */
export function valueAt(line: Line, at: number): number | null {
  const count = line.length / 2;
  if (count === 0) return null;
  let low = 0;
  let high = count - 1;
  if (at < (line[0] as number)) return line[1]!;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((line[2 * middle] as number) <= at) low = middle;
    else high = middle - 1;
  }
  const from = line[2 * low + 1] ?? null;
  if (low === count - 1) return from;
  const to = line[2 * low + 3] ?? null;
  if (from === null) return null;
  if (to === null) return from;
  const start = line[2 * low] as number;
  const end = line[2 * low + 2] as number;
  return end > start ? from + ((to - from) * (at - start)) / (end - start) : to;
}

/** The gain of a ride: as `valueAt`, but a segment with one end off runs to the bottom of the fader. */
export function gainAt(ride: Line, at: number, bottom: number): number | null {
  const count = ride.length / 2;
  for (let i = 0; i + 1 < count; i++) {
    const start = ride[2 * i] as number;
    const end = ride[2 * i + 2] as number;
    if (at < start || at > end) continue;
    const from = ride[2 * i + 1] ?? null;
    const to = ride[2 * i + 3] ?? null;
    if (at === start) return from;
    if (at === end) return to;
    if (from === null && to === null) return null;
    return (from ?? bottom) + (((to ?? bottom) - (from ?? bottom)) * (at - start)) / (end - start);
  }
  return null;
}

/** Whether anything is drawn of a line in a stretch. */
export function isPresent(line: Line, from: number, to: number): boolean {
  for (let i = 0; i < line.length; i += 2) {
    const at = line[i] as number;
    if (at >= to) break;
    const next = i + 2 < line.length ? (line[i + 2] as number) : Infinity;
    if (next > from && line[i + 1] !== null) return true;
  }
  return false;
}
