import { splitBars } from './bars';
import type { SystemBox } from './geometry';

/**
 * Cuts the picture of one endless system into tiles of so many bars, each a picture of its own. A tile also holds the bars
 * before it as far as slurs and ties may reach over its edge, and the bar after it, whose number stands on its edge; what lies
 * outside is not seen.
 */
export function tiles(svg: string, box: SystemBox, barsPerTile: number): { svg: string; box: SystemBox; first: number }[] {
  const split = splitBars(svg);
  if (!split) return [{ svg, box, first: 0 }];
  const cut: { svg: string; box: SystemBox; first: number }[] = [];
  for (let first = 0; first < box.bars.length; first += barsPerTile) {
    const bars = box.bars.slice(first, first + barsPerTile);
    const from = first === 0 ? 0 : bars[0]!.left;
    const to = first + barsPerTile >= box.bars.length ? box.width : bars[bars.length - 1]!.right;
    const body = split.bars.slice(Math.max(0, first - 2), first + barsPerTile + 1).join('');
    const view = `viewBox="${from} 0 ${to - from} ${box.height}"`;
    const text = (split.head + body + split.tail)
      .replace(/(class="definition-scale"[^>]*)viewBox="[^"]*"/, `$1${view}`)
      .replace(/^(\s*<svg [^>]*?)viewBox="[^"]*"/, `$1viewBox="0 0 ${(to - from) / 10} ${box.height / 10}"`);
    cut.push({
      svg: text,
      first,
      box: { width: to - from, height: box.height, bars: bars.map((bar) => ({ left: bar.left - from, right: bar.right - from, music: bar.music - from })) },
    });
  }
  return cut;
}
