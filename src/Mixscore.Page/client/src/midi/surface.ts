/**
 * A MIDI fader controller at the browser: what its faders and buttons are for, learned by moving each once. A fader that has no
 * motor takes a source only where it meets or passes the source's own fader, so that nothing leaps. Knows no browser; is told
 * messages and asked for what they mean. Source of the messages: MIDI 1.0 Detailed Specification, 4.2.1, channel voice messages.
 */
export interface Control {
  /** `cc/1/7`, `bend/3`, `note/1/36`: kind, channel from 1, number. */
  id: string;
  /** 0 to 1; of a button 1 when it is pressed. */
  value: number;
}

export type Job = { do: 'fader'; source: string } | { do: 'back'; source: string } | { do: 'allback' } | { do: 'hold' };

/** What a controller asks for. */
export type Asked = { do: 'take'; source: string; place: number } | { do: 'back'; source: string } | { do: 'allback' } | { do: 'hold' };

/** How near a fader meets a source's, of its whole way; and how far one has to be moved to be meant. */
const near = 0.02;
const meant = 0.08;

/** Reads a message; `null` for one that is no fader and no button. */
export function read(bytes: ArrayLike<number>): Control | null {
  const [status, first, second] = [bytes[0] ?? 0, bytes[1] ?? 0, bytes[2] ?? 0];
  const channel = (status & 0x0f) + 1;
  switch (status & 0xf0) {
    case 0xb0:
      return { id: `cc/${channel}/${first}`, value: second / 127 };
    case 0xe0:
      return { id: `bend/${channel}`, value: (first + 128 * second) / 16383 };
    case 0x90:
      return second > 0 ? { id: `note/${channel}/${first}`, value: 1 } : null;
    default:
      return null;
  }
}

export class Surface {
  private readonly last = new Map<string, number>();
  private readonly holds = new Set<string>();
  private learning: { job: Job; since: Map<string, number> } | null = null;

  /** @param jobs What each control is for, as it was learned before. */
  constructor(readonly jobs: Map<string, Job> = new Map()) {}

  /** The next control that is moved, or the next button that is pressed, is for this. */
  learn(job: Job | null): void {
    this.learning = job && { job, since: new Map(this.last) };
  }

  get isLearning(): boolean {
    return this.learning !== null;
  }

  /** What does a source's fader; `null` for nothing yet. */
  controlOf(job: Job): string | null {
    const text = JSON.stringify(job);
    for (const [id, one] of this.jobs) if (JSON.stringify(one) === text) return id;
    return null;
  }

  forget(): void {
    this.jobs.clear();
    this.holds.clear();
  }

  /**
   * Takes a message.
   * @param placeOf Where a source's fader stands, of its whole way.
   * @param isHeld Whether a hand has the source.
   */
  take(control: Control, placeOf: (source: string) => number, isHeld: (source: string) => boolean): Asked | 'learned' | null {
    const before = this.last.get(control.id);
    this.last.set(control.id, control.value);
    if (this.learning) return this.learnt(control) ? 'learned' : null;
    const job = this.jobs.get(control.id);
    if (!job) return null;
    if (job.do !== 'fader') return control.value >= 0.5 && (before === undefined || before < 0.5 || control.id.startsWith('note')) ? ({ ...job } as Asked) : null;
    const at = placeOf(job.source);
    // Handed back by somebody else: it has to be met anew.
    if (!isHeld(job.source)) this.holds.delete(control.id);
    const meets = Math.abs(control.value - at) <= near || (before !== undefined && (before - at) * (control.value - at) <= 0);
    if (!this.holds.has(control.id) && !meets) return null;
    this.holds.add(control.id);
    return { do: 'take', source: job.source, place: control.value };
  }

  private learnt(control: Control): boolean {
    const { job, since } = this.learning!;
    const isButton = job.do !== 'fader';
    if (isButton ? control.value < 0.5 : control.id.startsWith('note')) return false;
    if (!isButton) {
      // A fader says where it is as soon as it is touched: only one that is moved is meant.
      const start = since.get(control.id);
      if (start === undefined) since.set(control.id, control.value);
      if (start === undefined || Math.abs(control.value - start) < meant) return false;
    }
    // A control has one job, and a job one control.
    for (const [id, one] of this.jobs) if (JSON.stringify(one) === JSON.stringify(job)) this.jobs.delete(id);
    this.jobs.set(control.id, job);
    this.learning = null;
    return true;
  }
}
