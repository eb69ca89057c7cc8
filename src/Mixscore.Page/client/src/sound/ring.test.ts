import { describe, expect, it } from 'vitest';
import { Ring } from './ring';

const rate = 48000;

/** Plays a tone for so many seconds while the server's clock goes by another rate than the sound card's. */
function play(seconds: number, drift: number, jitter: (block: number) => number = () => 0) {
  const ring = new Ring(rate, 0.045);
  const [left, right] = [new Float32Array(128), new Float32Array(128)];
  const out: number[] = [];
  let sent = 0;
  for (let time = 0; time < seconds; time += 128 / rate) {
    while (sent * 0.01 + jitter(sent) <= time * (1 + drift)) {
      const block = new Float32Array(960);
      for (let i = 0; i < 480; i++) block[2 * i] = block[2 * i + 1] = 0.5 * Math.sin((2 * Math.PI * 997 * (sent * 480 + i)) / rate);
      ring.push(block, sent === 0, false);
      sent++;
    }
    ring.pull(left, right);
    out.push(...left);
  }
  return { ring, out };
}

/** The largest step between neighbours' steps: a click stands far above what a tone of that pitch has. */
const roughest = (sound: number[]) => {
  let most = 0;
  for (let i = 2; i < sound.length; i++) most = Math.max(most, Math.abs(sound[i]! - 2 * sound[i - 1]! + sound[i - 2]!));
  return most;
};

describe('the sound between two clocks', () => {
  // Derived: the second difference of a sine of amplitude A and step w is at most A w².
  const smooth = 0.5 * ((2 * Math.PI * 997) / rate) ** 2;

  it.each([0, 200e-6, -200e-6])('goes on without a gap or a click at a drift of %d', (drift) => {
    const { ring, out } = play(120, drift);
    expect(ring.gaps).toBe(0);
    expect(roughest(out.slice(rate))).toBeLessThan(smooth * 1.05);
    expect(Math.abs(ring.fill / rate - 0.045)).toBeLessThan(0.012);
  });

  it('bends the rate by what the clocks differ', () => {
    expect(play(120, 200e-6).ring.bend).toBeCloseTo(200e-6, 4);
  });

  it('holds more sound where it comes in unevenly, before it runs out', () => {
    const { ring } = play(30, 0, (block) => (block % 50 === 0 && block > 200 ? 0.034 : 0));
    expect(ring.gaps).toBe(0);
    expect(ring.target).toBeGreaterThan(0.045);
  });

  // 35 ms come by themselves, ten to twenty more are bridged each time.
  it.each([0.05, 0.07, 0.085])('hears a little again, without a gap or a click, when nothing came for %d s', (late) => {
    const { ring, out } = play(60, 0, (block) => (block > 200 ? Math.max(0, late - 0.01 * ((block - 201) % 1500)) : 0));
    expect([ring.gaps, ring.repeats > 0]).toEqual([0, true]);
    expect(roughest(out.slice(rate))).toBeLessThan(smooth * 1.5);
    expect(ring.repeats).toBeLessThan(12);
  });

  it('is caught out but once by what comes late again and again, and forgets it after a long calm', () => {
    const stalls = (until: number) => (block: number) => (block > 200 && block < until ? Math.max(0, 0.13 - 0.01 * (block % 300)) : 0);
    const { ring } = play(30, 0, stalls(3000));
    expect(ring.gaps).toBeLessThan(2);
    expect(ring.target).toBeGreaterThan(0.1);
    expect(play(180, 0, stalls(1000)).ring.target).toBeLessThan(ring.target - 0.04);
  });

  it('hears nothing again from before a silence', () => {
    const ring = new Ring(rate, 0.01);
    const [left, right] = [new Float32Array(128), new Float32Array(128)];
    ring.push(new Float32Array(960).fill(0.9), true, true);
    for (let i = 0; i < 10; i++) ring.pull(left, right);
    ring.push(new Float32Array(960).fill(0.1), true, false);
    let most = 0;
    for (let i = 0; i < 10; i++) {
      ring.pull(left, right);
      most = Math.max(most, ...left);
    }
    expect(most).toBeLessThan(0.2);
  });

  it('counts a gap when the sound stays away, and none when it was told to end', () => {
    const ring = new Ring(rate, 0.045);
    const [left, right] = [new Float32Array(128), new Float32Array(128)];
    for (let i = 0; i < 6; i++) ring.push(new Float32Array(960).fill(0.1), i === 0, i === 5);
    for (let i = 0; i < 100; i++) ring.pull(left, right);
    expect(ring.gaps).toBe(0);
    for (let i = 0; i < 6; i++) ring.push(new Float32Array(960).fill(0.1), i === 0, false);
    let heard = 0;
    for (let i = 0; i < 100; i++) {
      ring.pull(left, right);
      heard += left.filter((sample) => sample !== 0).length;
    }
    expect(ring.gaps).toBe(1);
    // Some of it is heard again, but no more than 60 ms of that.
    expect(heard).toBeGreaterThan(6 * 480);
    expect(heard).toBeLessThanOrEqual(6 * 480 + 0.06 * rate);
  });

  it('leaves out without a click what came in a heap', () => {
    const { ring, out } = play(3, 0, (block) => (block > 150 ? -0.2 : 0));
    expect(ring.gaps).toBe(0);
    expect(ring.fill / rate).toBeLessThan(0.12);
    expect(roughest(out.slice(rate))).toBeLessThan(smooth * 2);
  });

  it('is the sound itself where nothing is bent', () => {
    const ring = new Ring(rate, 0.01);
    ring.push(Float32Array.from({ length: 960 }, (_, i) => i / 960), true, false);
    const [left, right] = [new Float32Array(128), new Float32Array(128)];
    ring.pull(left, right);
    expect(left[5]).toBeCloseTo(10 / 960, 4);
    expect(right[5]).toBeCloseTo(11 / 960, 4);
  });
});
