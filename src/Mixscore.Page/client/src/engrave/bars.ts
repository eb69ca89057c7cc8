/** A system's picture taken apart: what comes before its first bar, each bar's group, and what follows. */
export interface SplitPicture {
  head: string;
  bars: string[];
  tail: string;
}

/** Where a bar's group begins. */
export const barGroup = /<g [^>]*class="measure\b/;
const beginsBar = new RegExp(`^${barGroup.source}`);

/** `null` where there are no bars, or where their groups do not close. */
export function splitBars(svg: string): SplitPicture | null {
  const start = svg.search(barGroup);
  if (start < 0) return null;
  const bars: string[] = [];
  const tag = /<\/g>|<g\b[^>]*>/g;
  let at = start;
  while (beginsBar.test(svg.slice(at, at + 200))) {
    tag.lastIndex = at;
    let depth = 0;
    let found: RegExpExecArray | null;
    while ((found = tag.exec(svg))) {
      if (found[0] === '</g>') depth--;
      else if (!found[0].endsWith('/>')) depth++;
      if (depth === 0) break;
    }
    if (!found) return null;
    let end = tag.lastIndex;
    while (/\s/.test(svg[end] ?? '')) end++;
    bars.push(svg.slice(at, end));
    at = end;
  }
  return { head: svg.slice(0, start), bars, tail: svg.slice(at) };
}
