/** What comes over the wire in bytes; see the server's Frames. −200 stands for off and for nothing to measure. */
export const soundHeader = 16;
const valuesHeader = 36;
const perSource = 24;

export const holders = ['planned', 'in hand', 'returning'] as const;
export type Holder = (typeof holders)[number];

/** Where everything is. One object is used over and over: fifty times a second nothing is made anew. */
export class Values {
  playing = false;
  armed = false;
  jumps = 0;
  seconds = 0;
  quarters = 0;
  momentary = -200;
  shortTerm = -200;
  /** Beats that are still counted in. */
  countIn = 0;
  gain: Float32Array;
  planned: Float32Array;
  offset: Float32Array;
  loudness: Float32Array;
  /** Where the first desk's faders are. */
  desk: Float32Array;
  holder: Uint8Array;
  flags: Uint8Array;

  constructor(readonly count: number) {
    this.gain = new Float32Array(count).fill(-200);
    this.planned = new Float32Array(count).fill(-200);
    this.offset = new Float32Array(count);
    this.loudness = new Float32Array(count).fill(-200);
    this.desk = new Float32Array(count).fill(-200);
    this.holder = new Uint8Array(count);
    this.flags = new Uint8Array(count);
  }

  /** Takes a frame; false for one that is not of this project. */
  read(buffer: ArrayBuffer): boolean {
    const view = new DataView(buffer);
    if (view.getUint8(0) !== 2 || view.getUint16(2, true) !== this.count || buffer.byteLength !== valuesHeader + this.count * perSource) return false;
    this.playing = (view.getUint8(1) & 1) !== 0;
    this.armed = (view.getUint8(1) & 2) !== 0;
    this.jumps = view.getUint32(4, true);
    this.seconds = view.getFloat64(8, true);
    this.quarters = view.getFloat64(16, true);
    this.momentary = view.getFloat32(24, true);
    this.shortTerm = view.getFloat32(28, true);
    this.countIn = view.getFloat32(32, true);
    for (let i = 0, at = valuesHeader; i < this.count; i++, at += perSource) {
      this.gain[i] = view.getFloat32(at, true);
      this.planned[i] = view.getFloat32(at + 4, true);
      this.offset[i] = view.getFloat32(at + 8, true);
      this.loudness[i] = view.getFloat32(at + 12, true);
      this.desk[i] = view.getFloat32(at + 16, true);
      this.holder[i] = view.getUint8(at + 20);
      this.flags[i] = view.getUint8(at + 21);
    }
    return true;
  }
}

export const isMuted = (flags: number) => (flags & 1) !== 0;
export const isSolo = (flags: number) => (flags & 2) !== 0;
export const isLinkGone = (flags: number) => (flags & 4) !== 0;
export const isAtDesk = (flags: number) => (flags & 8) !== 0;
export const isDeskKnown = (flags: number) => (flags & 16) !== 0;
