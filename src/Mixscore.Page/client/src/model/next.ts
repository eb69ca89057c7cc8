import { beatsBetween } from './place';
import type { Project } from './project';

/** A planned move that is coming. */
export interface Move {
  source: number;
  at: number;
  until: number;
  from: number | null;
  to: number | null;
  /** How far, in dB; off counts as the bottom of the fader. */
  by: number;
}

/** All moves of all rides, in order; where several begin together the biggest first. */
export function movesOf(project: Project, least = 0.5): Move[] {
  const moves: Move[] = [];
  project.sources.forEach((source, index) => {
    for (let i = 0; i + 3 < source.ride.length; i += 2) {
      const from = source.ride[i + 1] ?? null;
      const to = source.ride[i + 3] ?? null;
      const by = (to ?? project.bottom) - (from ?? project.bottom);
      if (Math.abs(by) >= least) moves.push({ source: index, at: source.ride[i] as number, until: source.ride[i + 2] as number, from, to, by });
    }
  });
  return moves.sort((a, b) => a.at - b.at || Math.abs(b.by) - Math.abs(a.by) || a.source - b.source);
}

/** How many beats a move that has begun is still told. */
const told = 4;

/** The moves from a place on, with beats to go; one that has just begun has none to go. */
export function coming(project: Project, moves: Move[], quarters: number, most: number): (Move & { beats: number })[] {
  const found: (Move & { beats: number })[] = [];
  for (const move of moves) {
    if (move.until <= quarters) continue;
    if (move.at <= quarters && beatsBetween(project.bars, move.at, quarters) > told) continue;
    found.push({ ...move, beats: move.at <= quarters ? 0 : beatsBetween(project.bars, quarters, move.at) });
    if (found.length === most) break;
  }
  return found;
}
