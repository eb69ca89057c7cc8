import type { Written } from './marks';

/** What `/project.json` holds. Quarters count from the start as played; levels are LU over the reference, gains dB. */
export interface Bar {
  index: number;
  label: string;
  written: number;
  pass: number;
  meter: string;
  start: number;
  length: number;
  seconds: number;
  beats: number[];
}

export type Role = 'voice' | 'instrument' | 'ambient';

/** Quarters and value in turn; `null` where there is nothing to draw. */
export type Line = (number | null)[];

export interface Source {
  name: string;
  site: string;
  role: Role;
  strip: number;
  within: number;
  part: string | null;
  integrated: number | null;
  target: Line;
  low: Line;
  high: Line;
  measured: Line;
  ride: Line;
  /** What is written in the plan; empty where its marks are locked. */
  marks: Written[];
  pins: Written[];
}

export interface Project {
  title: string;
  mode: 'rehearse' | 'perform';
  reference: number;
  end: number;
  seconds: number;
  rate: number;
  bottom: number;
  top: number;
  /** Tells the written score from another; `null` where there is nothing to engrave. */
  scoreKey: string | null;
  bars: Bar[];
  letters: { name: string; bar: number }[];
  sites: { name: string; delay: number }[];
  sources: Source[];
}

/** The name without its site, where it begins with it. */
export function shortName(source: Source): string {
  return source.name.startsWith(source.site + '.') ? source.name.slice(source.site.length + 1) : source.name;
}

/** Whether a project read anew is of the same piece and sources, so that what is drawn can go on. */
export function isSamePiece(a: Project, b: Project): boolean {
  const shape = (project: Project) =>
    JSON.stringify([project.mode, project.end, project.seconds, project.rate, project.bars, project.letters, project.sites, project.sources.map((source) => [source.name, source.site, source.role, source.part])]);
  return shape(a) === shape(b);
}
