/** The longest that a hand may wait to be heard on a machine that is short of breath, in seconds. */
const mostTarget = 0.15;

/** How much more than that is waited for before what is too much is left out, in seconds. */
const mostAhead = 0.06;

/** How long a splice takes, in frames. */
const spliceFrames = 256;

/**
 * Sound between the server's clock and the sound card's: blocks come in by the one and go out by the other, and the rate is
 * bent by less than can be heard so that the buffer stays as full as it should be. Knows no browser.
 */
export class Ring {
  /** How often the sound ran out while it should have gone on. */
  gaps = 0;
  /** Frames out for a frame in, less one: how far the rate is bent. */
  bend = 0;

  private readonly left: Float32Array;
  private readonly right: Float32Array;
  private readonly mask: number;
  private readonly least: number;
  private written = 0;
  private at = 0;
  private state: 'idle' | 'filling' | 'playing' | 'ending' = 'idle';
  private smooth = 0;
  private rise = 1;
  private old: number | null = null;
  private lowest = Infinity;
  private watched = 0;
  private calm = 0;

  /**
   * @param rate Frames a second.
   * @param target How much sound is held before it is played, in seconds.
   */
  constructor(
    private readonly rate: number,
    public target: number,
  ) {
    this.least = target;
    let size = 4096;
    while (size < rate) size *= 2;
    this.left = new Float32Array(size);
    this.right = new Float32Array(size);
    this.mask = size - 1;
  }

  /** Frames held. */
  get fill(): number {
    return this.written - this.at;
  }

  /** The frame that is played next, counted like `end`. */
  get place(): number {
    return this.at;
  }

  /** The frame that comes in next. */
  get end(): number {
    return this.written;
  }

  get isPlaying(): boolean {
    return this.state === 'playing' || this.state === 'ending';
  }

  /** Takes interleaved frames. What would overflow pushes out the oldest. */
  push(frames: Float32Array, begins: boolean, ends: boolean): void {
    if (begins && this.state !== 'playing') this.state = 'filling';
    if (this.state === 'idle') this.state = 'filling';
    if (this.state === 'ending' && !ends) this.state = 'playing';
    for (let i = 0; i + 1 < frames.length; i += 2) {
      const place = this.written++ & this.mask;
      this.left[place] = frames[i]!;
      this.right[place] = frames[i + 1]!;
    }
    if (this.fill > this.mask - 4) this.at = this.written - this.mask + 4;
    if (ends) this.state = 'ending';
  }

  /** Fills the two sides with what is to be heard next. */
  pull(left: Float32Array, right: Float32Array): void {
    left.fill(0);
    right.fill(0);
    const count = left.length;
    const wanted = this.target * this.rate;
    if (this.state === 'filling' && this.fill >= wanted) {
      // What came late in a heap is not played late.
      if (this.fill > wanted + mostAhead * this.rate) this.at = this.written - wanted;
      [this.state, this.smooth] = ['playing', this.fill];
    }
    if (this.state === 'idle' || this.state === 'filling') return;
    if (this.fill > wanted + mostAhead * this.rate) this.skip(this.written - wanted);
    // Blocks come in lumps: only their mean over about a second says anything.
    this.smooth += (this.fill - this.smooth) * Math.min(1, count / this.rate);
    this.bend = Math.max(-0.003, Math.min(0.003, (0.1 * (this.smooth - wanted)) / this.rate));
    this.watch(count);
    const step = 1 + this.bend;
    for (let i = 0; i < count; i++) {
      if (this.fill < 3) {
        this.runDry();
        return;
      }
      const whole = Math.floor(this.at);
      const part = this.at - whole;
      left[i] = between(this.left, whole, this.mask, part);
      right[i] = between(this.right, whole, this.mask, part);
      if (this.rise < 1) {
        // Over a splice the old place fades out while the new one fades in; after silence there is no old place.
        const old = this.old === null ? 0 : Math.floor(this.old++);
        left[i] = left[i]! * this.rise + (old ? this.left[old & this.mask]! * (1 - this.rise) : 0);
        right[i] = right[i]! * this.rise + (old ? this.right[old & this.mask]! * (1 - this.rise) : 0);
        this.rise += 1 / spliceFrames;
        if (this.rise >= 1) this.old = null;
      }
      this.at += step;
    }
  }

  /** Goes on elsewhere in what is held, without a click. */
  private skip(to: number): void {
    [this.old, this.at, this.rise] = [this.at, to, 0];
    this.smooth = this.fill;
  }

  /** Holds more sound where it comes in unevenly, before it runs out, and less again after a long calm. */
  private watch(count: number): void {
    this.lowest = Math.min(this.lowest, this.fill);
    this.watched += count;
    if (this.watched < this.rate / 2) return;
    const low = this.lowest / this.rate;
    this.calm = low > this.target - 0.018 ? this.calm + 1 : 0;
    if (low < 0.012) this.target = Math.min(mostTarget, this.target + 0.005);
    else if (this.calm >= 40) [this.target, this.calm] = [Math.max(this.least, this.target - 0.002), 0];
    [this.lowest, this.watched] = [Infinity, 0];
  }

  private runDry(): void {
    if (this.state === 'playing') {
      this.gaps++;
      this.rise = 0;
      this.target = Math.min(mostTarget, this.target + 0.01);
      this.lowest = Infinity;
      this.state = 'filling';
    } else this.state = 'idle';
    if (this.state === 'idle') this.at = this.written;
  }
}

/** A cubic through four neighbours (Catmull–Rom): at no distance it is the sample itself. */
function between(sound: Float32Array, at: number, mask: number, part: number): number {
  const b = sound[at & mask]!;
  if (part === 0) return b;
  const a = sound[(at - 1) & mask]!;
  const c = sound[(at + 1) & mask]!;
  const d = sound[(at + 2) & mask]!;
  return b + 0.5 * part * (c - a + part * (2 * a - 5 * b + 4 * c - d + part * (3 * (b - c) + d - a)));
}
