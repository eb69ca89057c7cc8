import type { SystemBox } from './geometry';

/**
 * Cuts the picture of one endless system into tiles of so many bars, each a picture of its own. A tile also holds the bars
 * before it as far as slurs and ties may reach over its edge; what lies outside is not seen.
 */
export function tiles(svg: string, box: SystemBox, barsPerTile: number): { svg: string; box: SystemBox; first: number }[] {
  const firstBar = svg.search(/<g [^>]*class="measure\b/);
  const chunks = splitBars(svg, firstBar);
  if (firstBar < 0 || !chunks) return [{ svg, box, first: 0 }];
  const head = svg.slice(0, firstBar);
  const tail = svg.slice(chunks.end);
  const cut: { svg: string; box: SystemBox; first: number }[] = [];
  for (let first = 0; first < box.bars.length; first += barsPerTile) {
    const bars = box.bars.slice(first, first + barsPerTile);
    const from = first === 0 ? 0 : bars[0]!.left;
    const to = first + barsPerTile >= box.bars.length ? box.width : bars[bars.length - 1]!.right;
    const body = chunks.bars.slice(Math.max(0, first - 2), first + barsPerTile).join('');
    const view = `viewBox="${from} 0 ${to - from} ${box.height}"`;
    const text = (head + body + tail)
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

/** The text of each bar's group, and where the last ends. */
function splitBars(svg: string, start: number): { bars: string[]; end: number } | null {
  const bars: string[] = [];
  const tag = /<g\b|<\/g>/g;
  let at = start;
  while (/^<g [^>]*class="measure\b/.test(svg.slice(at, at + 200))) {
    tag.lastIndex = at;
    let depth = 0;
    let found: RegExpExecArray | null;
    while ((found = tag.exec(svg))) {
      depth += found[0] === '</g>' ? -1 : 1;
      if (depth === 0) break;
    }
    if (!found) return null;
    let end = tag.lastIndex;
    while (/\s/.test(svg[end] ?? '')) end++;
    bars.push(svg.slice(at, end));
    at = end;
  }
  return bars.length ? { bars, end: at } : null;
}
