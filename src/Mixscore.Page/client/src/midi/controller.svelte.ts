import type { Live } from '../live/live.svelte';
import type { Project } from '../model/project';
import { gainOf, placeOf } from '../model/scale';
import { read, Surface, type Job } from './surface';

/** A fader controller that is plugged into this machine, where the browser offers MIDI. What it was taught is kept in this browser. */
export class Controller {
  private static readonly kept = 'mixscore-surface';
  readonly isOffered = 'requestMIDIAccess' in navigator;
  /** Names of what is plugged in; `null` before it was asked for. */
  inputs = $state.raw<string[] | null>(null);
  problem = $state('');
  /** What is being taught; `null` for nothing. */
  learning = $state.raw<Job | null>(null);
  /** How often something was learned, so that whoever shows it looks again. */
  learned = $state(0);
  private readonly surface: Surface;
  private access: MIDIAccess | null = null;
  private queue: Job[] = [];

  constructor(
    private readonly live: Live,
    private readonly project: () => Project,
  ) {
    let jobs = new Map<string, Job>();
    try {
      jobs = new Map(JSON.parse(localStorage.getItem(Controller.kept) ?? '[]') as [string, Job][]);
    } catch {
      // A browser that keeps nothing is taught each time.
    }
    this.surface = new Surface(jobs);
    // What was taught before works again without being asked for, where the browser still allows it.
    if (jobs.size && this.isOffered) void this.open();
  }

  async open(): Promise<void> {
    try {
      this.access = await navigator.requestMIDIAccess();
    } catch {
      this.problem = 'The browser did not allow it.';
      return;
    }
    this.access.onstatechange = () => this.listen();
    this.listen();
  }

  controlOf = (job: Job) => (void this.learned, this.surface.controlOf(job));

  learn(...jobs: Job[]): void {
    this.queue = jobs.slice(1);
    this.learning = jobs[0] ?? null;
    this.surface.learn(this.learning);
  }

  forget(): void {
    this.surface.forget();
    this.keep();
  }

  private listen(): void {
    const inputs = [...this.access!.inputs.values()];
    for (const input of inputs) input.onmidimessage = (event) => event.data && this.hear(event.data);
    this.inputs = inputs.filter((input) => input.state === 'connected').map((input) => input.name ?? 'unnamed');
  }

  private index = (source: string) => this.project().sources.findIndex((one) => one.name === source);

  private hear(bytes: Uint8Array): void {
    const control = read(bytes);
    if (!control) return;
    const { values } = this.live;
    const asked = this.surface.take(
      control,
      (source) => placeOf(values.gain[this.index(source)] ?? null),
      (source) => values.holder[this.index(source)] === 1,
    );
    if (asked === 'learned') {
      this.keep();
      this.learn(...this.queue);
    } else if (asked?.do === 'take') {
      const gain = asked.place <= 0.001 ? null : Math.min(this.project().top, Math.round(gainOf(asked.place) * 10) / 10);
      this.live.order('take', { source: asked.source, db: gain });
    } else if (asked?.do === 'back') this.live.order('back', { source: asked.source });
    else if (asked) this.live.order(asked.do);
  }

  private keep(): void {
    this.learned++;
    try {
      localStorage.setItem(Controller.kept, JSON.stringify([...this.surface.jobs]));
    } catch {
      // As above.
    }
  }
}
