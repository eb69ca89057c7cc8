import type { Project } from '../model/project';
import { Player, type SoundState } from '../sound/player';
import { Values } from './frames';
import type { Edits, Hand, Happening, Night, Said } from './said';

type Painter = (now: number) => void;

/** Lets every other frame of most screens go by, in milliseconds: to draw each would take half a core, and the sound needs it more. */
const betweenPaints = 25;

/** The page's end of the wire: what the server says, kept for whoever draws, and what the engineer orders. */
export class Live {
  /** Whether the wire is whole. */
  connected = $state(false);
  playing = $state(false);
  loop = $state<[number, number] | null>(null);
  /** What the server would not take, in its words. */
  refused = $state('');
  /** A performance's own state; `null` in a rehearsal. */
  night = $state.raw<Night | null>(null);
  clock = $state('click');
  hand = $state.raw<Hand>({ you: '', has: false, holder: null, there: false, asks: false, asking: [] });
  /** What happened of late, the newest last. */
  told = $state.raw<Happening[]>([]);
  /** How the edits of the plan stand; `null` where its marks are locked. */
  edits = $state.raw<Edits | null>(null);
  /** Called when the plan has changed, and when the server was started anew. */
  onplan: () => void = () => {};
  private key = '';
  /** When the wire was lost, on the page's own time. */
  lostAt = $state(0);
  sound = $state<SoundState>({ on: false, gaps: 0, repeats: 0, fill: 0, reach: null });

  readonly values: Values;
  /** What was heard of each source, an eighth of a quarter apart; −200 for nothing yet. */
  readonly heard: Float32Array[];
  static readonly heardPerQuarter = 8;

  private readonly worker = new Worker(new URL('./link.worker.ts', import.meta.url), { type: 'module' });
  private readonly player: Player;
  private readonly painters = new Set<Painter>();
  private number = 0;
  private arrived = 0;

  /**
   * @param project What is shown.
   * @param word What this page calls itself when it asks for the hand; `null` for one that only watches.
   */
  constructor(readonly project: Project, word: string | null) {
    const count = project.sources.length;
    this.values = new Values(count);
    this.heard = project.sources.map(() => new Float32Array(Math.ceil(project.end * Live.heardPerQuarter) + 2).fill(-200));
    this.player = new Player(
      project.rate,
      (port) => this.worker.postMessage({ sound: true }, [port]),
      (state) => (this.sound = state),
    );
    this.worker.onmessage = ({ data }: MessageEvent<string | ArrayBuffer>) => (typeof data === 'string' ? this.hear(data) : this.take(data));
    this.worker.postMessage({ open: `ws://${location.host}/live`, word });
    // In a task before the screen is drawn, not in that one: both together would keep the page for long.
    const paint = () => {
      const now = performance.now();
      for (const painter of this.painters) painter(now);
      requestAnimationFrame(() => setTimeout(paint, betweenPaints));
    };
    requestAnimationFrame(() => setTimeout(paint));
  }

  /** Where the piece is at this instant: the last word of the server, carried on. */
  quarters(now: number): number {
    const { values } = this;
    if (!values.playing) return values.quarters;
    return Math.min(this.project.end, values.quarters + Math.min(0.2, (now - this.arrived) / 1000) * this.rate);
  }

  /** Calls some thirty times a second, just before the screen is drawn, until the returned function is called. */
  onPaint(painter: Painter): () => void {
    this.painters.add(painter);
    return () => this.painters.delete(painter);
  }

  order(what: string, more: object = {}): void {
    this.refused = '';
    const n = ++this.number;
    if (what === 'take' || what === 'offset') this.player.ordered(n);
    this.worker.postMessage({ send: JSON.stringify({ do: what, n, ...more }) });
  }

  /** Whether this page may order; where another has the hand that is said. */
  get mayOrder(): boolean {
    return this.connected && this.hand.has;
  }

  async play(): Promise<void> {
    await this.player.open();
    this.order('play');
  }

  toggle(): void {
    if (this.values.playing) this.order('pause');
    else void this.play();
  }

  /** Quarters a second, by what the last frames said. */
  private rate = 0;

  private take(buffer: ArrayBuffer): void {
    const { values } = this;
    const [before, secondsBefore, jumps] = [values.quarters, values.seconds, values.jumps];
    if (!values.read(buffer)) return;
    this.arrived = performance.now();
    const seconds = values.seconds - secondsBefore;
    if (values.jumps === jumps && seconds > 0) this.rate = (values.quarters - before) / seconds;
    if (values.playing !== this.playing) this.playing = values.playing;
    if (values.playing) {
      const place = Math.floor(values.quarters * Live.heardPerQuarter);
      for (let i = 0; i < values.count; i++) this.heard[i]![place] = values.loudness[i]!;
    }
  }

  private hear(text: string): void {
    if (text === 'open' || text === 'closed') {
      this.connected = text === 'open';
      if (!this.connected) this.lostAt = performance.now();
      // What happened is told anew by a server that is found again.
      else this.told = [];
      return;
    }
    const said = JSON.parse(text) as Said;
    switch (said.kind) {
      case 'hello':
        this.clock = said.clock;
        if (this.key && this.key !== said.key) this.onplan();
        this.key = said.key;
        break;
      case 'edit':
        this.edits = said;
        break;
      case 'plan':
        this.onplan();
        break;
      case 'state':
        this.loop = said.loop ?? null;
        if ('phase' in said) this.night = said as Night;
        break;
      case 'hand':
        this.hand = said;
        break;
      case 'told':
        this.told = [...this.told.slice(-29), said];
        break;
      case 'refused':
        this.refused = said.why;
    }
  }
}
