/** The longest that a hand may wait to be heard on a machine that is short of breath, in seconds. */
const mostTarget = 0.2;

/** How much more is held once a little was heard again, and once the sound ran out, in seconds: what was late will be again. */
const [moreOnceLate, moreOnceDry] = [0.03, 0.05];

/** How much more than that is waited for before what is too much is left out, in seconds. */
const mostAhead = 0.06;

/** How long a splice takes, in frames. */
const spliceFrames = 256;

/** How much of what was heard is heard again when the next is late, in seconds: a few periods of any voice. */
const [leastAgain, mostAgain] = [0.008, 0.025];

/** For how long that may go on with nothing new, in seconds: as long as ITU-T G.711 Appendix I conceals lost sound. */
const mostConcealed = 0.06;

/**
 * Sound between the server's clock and the sound card's: blocks come in by the one and go out by the other, and the rate is
 * bent by less than can be heard so that the buffer stays as full as it should be. Knows no browser.
 */
export class Ring {
  /** How often the sound ran out while it should have gone on. */
  gaps = 0;
  /** How often a little was heard twice, since the next was late. */
  repeats = 0;
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
  /** The first frame since silence, and how many were heard again since anything came. */
  private born = 0;
  private again = 0;

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
    this.again = 0;
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
      [this.state, this.smooth, this.born] = ['playing', this.fill, this.at];
    }
    if (this.state === 'idle' || this.state === 'filling') return;
    if (this.fill > wanted + mostAhead * this.rate) this.skip(this.written - wanted);
    else if (this.state === 'playing' && this.rise >= 1 && this.fill < count + spliceFrames + 4 && this.fill > spliceFrames) this.repeat();
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
        left[i] = left[i]! * this.rise;
        right[i] = right[i]! * this.rise;
        if (this.old !== null) {
          const from = Math.floor(this.old);
          left[i]! += between(this.left, from, this.mask, this.old - from) * (1 - this.rise);
          right[i]! += between(this.right, from, this.mask, this.old - from) * (1 - this.rise);
          this.old += step;
        }
        this.rise += 1 / spliceFrames;
        if (this.rise >= 1) this.old = null;
      }
      this.at += step;
    }
  }

  /** Hears a little again where it sounds most like what is heard now, and holds more from then on. */
  private repeat(): void {
    const most = Math.min(mostAgain, mostConcealed - this.again / this.rate) * this.rate;
    const lag = this.likest(Math.floor(this.at), leastAgain * this.rate, Math.min(most, this.at - this.born));
    if (lag === 0) return;
    this.repeats++;
    this.again += lag;
    this.target = Math.min(mostTarget, this.target + moreOnceLate);
    this.skip(this.at - lag);
  }

  /** How many frames before a place the sound is most alike; 0 where there is none to compare with. */
  private likest(at: number, least: number, most: number): number {
    let [best, found] = [-Infinity, 0];
    for (let lag = Math.ceil(least); lag <= most; lag += 2) {
      let [product, energy] = [0, 1e-9];
      for (let i = 0; i < spliceFrames; i += 2) {
        const now = this.left[(at + i) & this.mask]! + this.right[(at + i) & this.mask]!;
        const then = this.left[(at + i - lag) & this.mask]! + this.right[(at + i - lag) & this.mask]!;
        product += now * then;
        energy += then * then;
      }
      const likeness = product / Math.sqrt(energy);
      if (likeness > best) [best, found] = [likeness, lag];
    }
    return found;
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
    // Ten seconds in which no more than that was missing: so much less still holds a little.
    else if (this.calm >= 20) [this.target, this.calm] = [Math.max(this.least, this.target - 0.02), 0];
    [this.lowest, this.watched] = [Infinity, 0];
  }

  private runDry(): void {
    if (this.state === 'playing') {
      this.gaps++;
      this.rise = 0;
      this.target = Math.min(mostTarget, this.target + moreOnceDry);
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
