import type { SoundReport } from './worklet';
import workletUrl from './worklet?worker&url';

/** How the sound is doing, for the page's foot. */
export interface SoundState {
  on: boolean;
  gaps: number;
  /** How often a little was heard twice, since the next was late. */
  repeats: number;
  fill: number;
  /** From a hand's move to hearing it, in milliseconds, the median of late; `null` before the first. */
  reach: number | null;
}

/** Opens the browser's sound at a real gesture and hands its end of the wire to whoever brings the sound. */
export class Player {
  private context: AudioContext | null = null;
  private readonly sent = new Map<number, number>();
  private reaches: number[] = [];
  readonly state: SoundState = { on: false, gaps: 0, repeats: 0, fill: 0, reach: null };

  constructor(
    private readonly rate: number,
    private readonly connect: (port: MessagePort) => void,
    private readonly changed: (state: SoundState) => void,
  ) {}

  async open(): Promise<void> {
    if (this.context) {
      await this.context.resume();
      return;
    }
    const context = (this.context = new AudioContext({ sampleRate: this.rate, latencyHint: 'interactive' }));
    await context.audioWorklet.addModule(workletUrl);
    const node = new AudioWorkletNode(context, 'listener', { numberOfInputs: 0, outputChannelCount: [2] });
    const channel = new MessageChannel();
    node.port.postMessage(null, [channel.port1]);
    node.port.onmessage = ({ data }: MessageEvent<SoundReport>) => this.told(data);
    node.connect(context.destination);
    this.connect(channel.port2);
    await context.resume();
    this.state.on = true;
    this.changed({ ...this.state });
  }

  /** Notes that a hand's order was sent. */
  ordered(number: number): void {
    if (this.context) this.sent.set(number, performance.now());
    if (this.sent.size > 200) this.sent.delete(this.sent.keys().next().value!);
  }

  private told(report: SoundReport): void {
    if ('heard' in report) {
      const sent = this.sent.get(report.heard);
      if (sent === undefined) return;
      for (const number of this.sent.keys()) if (number <= report.heard) this.sent.delete(number);
      this.reaches.push(performance.now() - sent);
      if (this.reaches.length > 100) this.reaches.shift();
      const sorted = [...this.reaches].sort((a, b) => a - b);
      this.state.reach = sorted[sorted.length >> 1]!;
    } else [this.state.fill, this.state.gaps, this.state.repeats] = [report.fill, report.gaps, report.repeats];
    this.changed({ ...this.state });
  }
}
