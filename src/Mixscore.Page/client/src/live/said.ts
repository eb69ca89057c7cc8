/** What the server says in words; see the server's LiveHub and the runs. */

/** What changes seldom in a performance. */
export interface Night {
  phase: 'waiting' | 'running' | 'stopped';
  armed: boolean;
  clock: { state: string; rate: number; jitter: number };
  stay: 'bar' | 'still' | null;
  jumpsTo: string | null;
  /** Ticks of the run that came late, and that were left out. */
  late: number;
  lost: number;
  /** What waits on the wire to a desk; `null` for nothing. */
  behind: string | null;
  log: string | null;
  trouble: string | null;
  /** What the engineer should know of the plan; `null` for nothing. */
  notice: string | null;
  desks: { title: string; there: boolean | null }[];
}

/** Who may order. */
export interface Hand {
  /** How this page is called; empty for one that only watches. */
  you: string;
  has: boolean;
  holder: string | null;
  /** Whether the page that has the hand is there. */
  there: boolean;
  asks: boolean;
  asking: string[];
}

/** How the edits of the plan stand. */
export interface Edits {
  undo: boolean;
  redo: boolean;
  /** Whether the plan file has them. */
  saved: boolean;
  trouble: string | null;
  clash: boolean;
  notice: string | null;
  /** Whether the rides are being fitted. */
  fitting: boolean;
}

/** Something that happened. */
export interface Happening {
  at: string | null;
  what: string;
  grave: boolean;
}

export type Said =
  | { kind: 'hello'; rate: number; clock: string; key: string }
  | ({ kind: 'state'; loop?: [number, number] | null } & Partial<Night>)
  | ({ kind: 'hand' } & Hand)
  | ({ kind: 'told' } & Happening)
  | ({ kind: 'edit' } & Edits)
  | { kind: 'plan' }
  | { kind: 'refused'; why: string };

/** The clock as it is called. */
export const clockNames: Record<string, string> = { click: 'own click', mtc: 'timecode', midi: 'MIDI clock', osc: 'OSC clock', ltc: 'linear timecode' };
