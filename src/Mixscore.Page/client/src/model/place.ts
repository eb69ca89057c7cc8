import type { Bar, Project } from './project';

/** How near, in quarters, two places are one: places are told in whole samples. */
const near = 1e-4;

/** The played bar at a place: the first before the start, the last at the end and after. */
export function barAt(bars: Bar[], quarters: number): Bar {
  let low = 0;
  let high = bars.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (bars[middle]!.start <= quarters + near) low = middle;
    else high = middle - 1;
  }
  return bars[low]!;
}

/** A bar as positions are written. */
export const placeText = (bar: Bar) => (bar.pass > 1 ? `${bar.label}@${bar.pass}` : bar.label);

/** The beat of a bar that sounds at a place, from 1. */
export function beatAt(bar: Bar, quarters: number): number {
  let beat = 1;
  for (let i = 1; i < bar.beats.length; i++) if (bar.beats[i]! <= quarters + near) beat = i + 1;
  return beat;
}

/** How many beats lie between two places, as the meters count them; parts of a beat are counted as parts. */
export function beatsBetween(bars: Bar[], from: number, to: number): number {
  let beats = 0;
  for (let index = barAt(bars, from).index - 1; index < bars.length; index++) {
    const bar = bars[index]!;
    for (let i = 0; i < bar.beats.length; i++) {
      const start = bar.beats[i]!;
      const end = bar.beats[i + 1] ?? bar.start + bar.length;
      const covered = Math.min(to, end) - Math.max(from, start);
      if (covered > 0) beats += covered / (end - start);
      if (end >= to) return beats;
    }
  }
  return beats;
}

/** How often a written bar is played in all. */
export function passesOf(bars: Bar[], written: number): number {
  return bars.reduce((most, bar) => (bar.written === written ? Math.max(most, bar.pass) : most), 1);
}

/** The letter at or before a bar, as heard last; empty before the first. */
export function letterAt(project: Project, index: number): string {
  let name = '';
  let nearest = 0;
  for (const letter of project.letters) {
    const written = project.bars[letter.bar - 1]?.written;
    for (const bar of project.bars)
      if (bar.written === written && bar.index <= index && bar.index >= nearest) [name, nearest] = [letter.name, bar.index];
  }
  return name;
}

/** Minutes and seconds, with tenths. */
export function clockText(seconds: number): string {
  const tenths = Math.max(0, Math.floor(seconds * 10 + 1e-6));
  const minutes = Math.floor(tenths / 600);
  const rest = tenths - minutes * 600;
  return `${minutes}:${String(Math.floor(rest / 10)).padStart(2, '0')}.${rest % 10}`;
}

/** A gain as it is written: a true minus, one decimal, or "off". */
export function gainText(gain: number | null): string {
  if (gain === null || gain <= -199) return 'off';
  const text = Math.abs(gain).toFixed(1);
  return (gain < 0 && text !== '0.0' ? '−' : gain > 0 && text !== '0.0' ? '+' : '') + text;
}
