import type { Line } from './project';

/** A night's log over the score; see the server's NightFiles. */
export interface NightLog {
  name: string;
  date: string | null;
  rehearsal: boolean;
  clock: string | null;
  late: number;
  drops: number;
  sources: { name: string; hands: Line[]; drops: [number, number][] }[];
  notes: { at: number; text: string }[];
  story: { bar: string; told: string[] }[];
  /** What the night suggests, once it was asked for. */
  suggests?: Suggestions;
}

/** What a night suggests for the plan; see the server's NightProposals. */
export interface Suggestions {
  proposals: Proposal[];
  /** What was left out, and why. */
  notes: string[];
}

export interface Proposal {
  key: string;
  source: string;
  from: string;
  to: string;
  was: string;
  becomes: string;
  because: string;
  /** The hall whose file it would go to. */
  hall: string | null;
  /** Its level, as a line to be drawn; empty where it leans on others. */
  line: Line;
}

export const readNights = async (): Promise<string[]> => (await fetch('/logs.json')).json();

export async function readNight(name: string): Promise<NightLog | null> {
  const answer = await fetch(`/log.json?name=${encodeURIComponent(name)}`);
  return answer.ok ? answer.json() : null;
}

export async function readSuggestions(name: string): Promise<Suggestions | null> {
  const answer = await fetch(`/proposals.json?name=${encodeURIComponent(name)}`);
  return answer.ok ? answer.json() : null;
}

/** A log's name as a person says it. */
export const nightName = (name: string) => name.replace('.log.jsonl', '').replace('T', ' ').replace(/(\d\d)-(\d\d)-(\d\d)(-\d+)?$/, '$1:$2:$3$4');
