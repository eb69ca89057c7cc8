import type { Bar } from '../model/project';
import type { SystemBox } from './geometry';

/** Systems without notes, for a score that cannot be engraved: bars as wide as they are long, in lines as wide as the page. */
export function plainSystems(bars: Bar[], width: number, perQuarter: number): { firstBar: number; box: SystemBox }[] {
  const written = new Map<number, Bar>();
  for (const bar of bars) if (!written.has(bar.written)) written.set(bar.written, bar);
  const systems: { firstBar: number; box: SystemBox }[] = [];
  let left = Infinity;
  for (const [place, bar] of [...written].sort(([a], [b]) => a - b)) {
    const wide = bar.length * perQuarter;
    if (left + wide > width) {
      systems.push({ firstBar: place, box: { width, height: 26, bars: [] } });
      left = 0;
    }
    systems[systems.length - 1]!.box.bars.push({ left, right: left + wide, music: left });
    left += wide;
  }
  return systems;
}
