import type { Live } from '../live/live.svelte';
import { beatsOf, levelWith, pinAt, positions, type Handle, type Written } from '../model/marks';
import { gainText } from '../model/place';
import type { Project } from '../model/project';

/** What is chosen: a mark or a vertex of a source. */
export interface Chosen {
  source: number;
  kind: 'mark' | 'vertex';
  index: number;
}

/** Edits of the plan, as the page makes them: each is one order, and one step to undo. */
export class Editor {
  chosen = $state<Chosen | null>(null);
  readonly beats: number[];

  constructor(
    private readonly live: Live,
    private readonly project: () => Project,
  ) {
    this.beats = beatsOf(project().bars);
  }

  source = (index: number) => this.project().sources[index]!;
  mark = (source: number, index: number): Written => this.source(source).marks[index]!;

  /** Puts a mark's end, or a vertex, at another value or place. */
  put(source: number, handle: Handle, at: number, value: number | null): void {
    if (handle.kind === 'vertex') {
      if (value !== null) this.live.order('pin', { source: this.source(source).name, at: handle.at, db: Math.round(value * 100) / 100 });
      return;
    }
    const mark = this.mark(source, handle.index);
    const [from, to] = positions(mark.key);
    const level = value !== null && value !== handle.value ? levelWith(mark, handle.kind, value) : mark.text;
    if (level === null) return;
    const moved = at !== handle.at;
    // A mark that is moved by its beginning takes its end along.
    const shift = handle.kind === 'start' ? at - handle.at : 0;
    this.write(source, mark, {
      at: moved && handle.kind === 'start' ? at : from,
      until: mark.until === null ? null : moved ? (handle.kind === 'end' ? at : mark.until + shift) : to,
      level,
    });
  }

  /** Writes a mark as it is typed, or as it was moved; positions that are numbers are quarters. */
  write(source: number, mark: Written | null, becomes: { at: string | number; until: string | number | null; level: string }): void {
    this.live.order('mark', { source: this.source(source).name, key: mark?.key ?? null, was: mark?.text ?? null, ...becomes });
  }

  erase(source: number, index: number): void {
    const mark = this.mark(source, index);
    this.live.order('unmark', { source: this.source(source).name, key: mark.key, was: mark.text });
    this.chosen = null;
  }

  /** Pins a vertex where the ride has it, or lets it go. */
  togglePin(source: number, handle: Handle): void {
    const pin = pinAt(this.source(source), handle.at);
    if (pin) this.live.order('unpin', { source: this.source(source).name, key: pin.key });
    else if (handle.value !== null) this.live.order('pin', { source: this.source(source).name, at: handle.at, db: Math.round(handle.value * 100) / 100 });
  }

  within(source: number, by: number): void {
    this.live.order('within', { source: this.source(source).name, by });
  }

  /** Takes what a night suggests; all of it where nothing is named. */
  learn(log: string, key: string | null): void {
    this.live.order('learn', { log, ...(key === null ? {} : { key }) });
  }

  undo = () => this.live.order('undo');
  redo = () => this.live.order('redo');

  /** What a handle is, for those who hear the page. */
  spoken(source: number, handle: Handle): string {
    const one = this.source(source);
    if (handle.kind === 'vertex') return `Vertex of ${one.name}, ${gainText(handle.value)} dB${pinAt(one, handle.at) ? ', pinned' : ''}`;
    const mark = one.marks[handle.index]!;
    return `Mark of ${one.name} at ${mark.key}: ${mark.text}${handle.kind === 'end' ? ', its end' : ''}`;
  }
}
