import type { Bar } from './project';

/**
 * Which pass of each written bar the page shows while a played bar sounds: within the stretch that is being played straight
 * through, that stretch; ahead of it the pass that comes next, behind it the one that was last.
 * @returns For each written bar (from 1) the played bar (from 1) that is shown; 0 for one that is never played.
 */
export function shownPasses(bars: Bar[], playing: number): number[] {
  const shown = new Array<number>(bars.reduce((most, bar) => Math.max(most, bar.written), 0) + 1).fill(0);
  const now = Math.min(Math.max(playing, 1), bars.length) - 1;
  let [from, to] = [now, now];
  while (from > 0 && bars[from - 1]!.written === bars[from]!.written - 1) from--;
  while (to + 1 < bars.length && bars[to + 1]!.written === bars[to]!.written + 1) to++;
  for (let i = bars.length - 1; i > to; i--) shown[bars[i]!.written] = i + 1;
  for (let i = 0; i < from; i++) {
    const written = bars[i]!.written;
    const comesAgain = shown[written]! > to;
    if (!comesAgain || written < bars[from]!.written) shown[written] = i + 1;
  }
  for (let i = from; i <= to; i++) shown[bars[i]!.written] = i + 1;
  return shown;
}
