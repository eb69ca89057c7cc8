/** Where a gain stands on a strip: dB and the part of its length, straight between. Close at the top, where the ear is. */
const points: readonly [number, number][] = [
  [-60, 0],
  [-40, 0.14],
  [-20, 0.42],
  [-10, 0.62],
  [0, 0.82],
  [10, 1],
];

/** The part of the length, 0 to 1; off stands at the end. */
export function placeOf(gain: number | null): number {
  if (gain === null || gain <= points[0]![0]) return 0;
  for (let i = 1; i < points.length; i++) {
    const [from, a] = points[i - 1]!;
    const [to, b] = points[i]!;
    if (gain <= to) return a + ((b - a) * (gain - from)) / (to - from);
  }
  return 1;
}

/** The gain at a part of the length. */
export function gainOf(place: number): number {
  for (let i = 1; i < points.length; i++) {
    const [from, a] = points[i - 1]!;
    const [to, b] = points[i]!;
    if (place <= b) return from + ((to - from) * (Math.max(place, 0) - a)) / (b - a);
  }
  return points[points.length - 1]![0];
}
