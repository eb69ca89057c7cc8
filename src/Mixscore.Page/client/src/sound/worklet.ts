import { soundHeader } from '../live/frames';
import { Ring } from './ring';

declare const sampleRate: number;
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare function registerProcessor(name: string, processor: unknown): void;

/** What the audio thread tells the page. */
export type SoundReport = { heard: number } | { fill: number; gaps: number; repeats: number; bend: number };

/** Plays what comes over the wire, and says when an order is heard. */
class Listener extends AudioWorkletProcessor {
  private readonly ring = new Ring(sampleRate, 0.045);
  private orders: { at: number; order: number }[] = [];
  private last = -1;
  private quanta = 0;

  constructor() {
    super();
    this.port.onmessage = ({ ports }: MessageEvent) => {
      ports[0]!.onmessage = ({ data }: MessageEvent<ArrayBuffer>) => this.take(data);
    };
  }

  process(_: unknown, [output]: Float32Array[][]): boolean {
    const left = output![0]!;
    this.ring.pull(left, output![1] ?? left);
    while (this.orders.length && this.ring.place >= this.orders[0]!.at) this.port.postMessage({ heard: this.orders.shift()!.order });
    if (this.quanta++ % 94 === 0) this.port.postMessage({ fill: this.ring.fill / sampleRate, gaps: this.ring.gaps, repeats: this.ring.repeats, bend: this.ring.bend });
    return true;
  }

  private take(data: ArrayBuffer) {
    const view = new DataView(data);
    const flags = view.getUint8(1);
    const order = view.getUint32(4, true);
    if (order !== this.last) this.orders.push({ at: this.ring.end, order: (this.last = order) });
    this.ring.push(new Float32Array(data, soundHeader), (flags & 1) !== 0, (flags & 2) !== 0);
  }
}

registerProcessor('listener', Listener);
