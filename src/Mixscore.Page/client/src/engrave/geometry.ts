import { barGroup } from './bars';

/** Where a bar stands in an engraved system, in the units of its picture. */
export interface BarBox {
  left: number;
  right: number;
  /** Where its time begins: at its left, but in a system's first bar after the clef and the key. */
  music: number;
}

/** The picture of a system: its size and its bars from left to right. */
export interface SystemBox {
  width: number;
  height: number;
  bars: BarBox[];
}

const staffLine = /<path d="M(-?[\d.]+) (-?[\d.]+) L(-?[\d.]+) (-?[\d.]+)" stroke-width="[\d.]+"/g;

/**
 * Reads a system's geometry from the text of its picture: a bar is as wide as its staves' lines, all staves taken together,
 * since some may be hidden. Asking the browser for rectangles costs seconds on a long score.
 */
export function readSystem(svg: string): SystemBox {
  const view = /class="definition-scale"[^>]*viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg);
  const margin = /class="page-margin" transform="translate\((-?[\d.]+),? ?(-?[\d.]+)\)"/.exec(svg);
  const shift = margin ? Number(margin[1]) : 0;
  const chunks = svg.split(new RegExp(`(?=${barGroup.source})`)).slice(1);
  return {
    width: view ? Number(view[1]) : 0,
    height: view ? Number(view[2]) : 0,
    bars: chunks.map((chunk, i) => readBar(chunk, shift, i === 0)),
  };
}

function readBar(chunk: string, shift: number, isFirst: boolean): BarBox {
  let left = Infinity;
  let right = -Infinity;
  for (const [, x1, y1, x2, y2] of chunk.matchAll(staffLine)) {
    // A staff line is level, and as long as the bar; stems and ledger lines are not both.
    if (y1 !== y2 || Number(x2) - Number(x1) < 400) continue;
    left = Math.min(left, Number(x1));
    right = Math.max(right, Number(x2));
  }
  if (left > right) return { left: 0, right: 0, music: 0 };
  let music = Infinity;
  if (isFirst) for (const [, x] of chunk.matchAll(/class="(?:notehead|rest)"[^>]*>\s*<use [^>]*translate\((-?[\d.]+)/g)) music = Math.min(music, Number(x));
  if (!(music > left && music < (left + right) / 2 + 600)) music = left;
  return { left: left + shift, right: right + shift, music: music + shift };
}
