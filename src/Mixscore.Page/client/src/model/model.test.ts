import { describe, expect, it } from 'vitest';
import { gainAt, isPresent, valueAt } from './lines';
import { coming, movesOf } from './next';
import { shownPasses } from './passes';
import { barAt, beatAt, beatsBetween, clockText, gainText, letterAt } from './place';
import type { Bar, Project, Source } from './project';
import { gainOf, placeOf } from './scale';

/** Bars of four quarters by their written numbers, in the order in which they are played. */
function played(...written: number[]): Bar[] {
  const passes = new Map<number, number>();
  return written.map((place, i) => {
    passes.set(place, (passes.get(place) ?? 0) + 1);
    return { index: i + 1, label: String(place), written: place, pass: passes.get(place)!, meter: '4/4', start: 4 * i, length: 4, seconds: 2 * i, beats: [0, 1, 2, 3].map((beat) => 4 * i + beat) };
  });
}

const source = (name: string, ride: (number | null)[]): Source => ({ name, site: 'a', role: 'voice', strip: 1, within: 2, part: null, integrated: null, target: [], low: [], high: [], measured: [], ride, marks: [], pins: [] });

function project(bars: Bar[], sources: Source[] = []): Project {
  return { title: '', mode: 'rehearse', reference: -23, end: bars.length * 4, seconds: bars.length * 2, rate: 48000, bottom: -60, top: 10, scoreKey: 'x', bars, letters: [{ name: 'A', bar: 2 }], sites: [], sources };
}

describe('places', () => {
  //        |: 1  2 :|  3
  const bars = played(1, 2, 1, 2, 3);

  it('are found by bar and beat, the start and the end held', () => {
    expect([barAt(bars, -1).index, barAt(bars, 0).index, barAt(bars, 4).index, barAt(bars, 99).index]).toEqual([1, 1, 2, 5]);
    expect([beatAt(bars[1]!, 4), beatAt(bars[1]!, 5.5), beatAt(bars[1]!, 8)]).toEqual([1, 2, 4]);
  });

  it('are counted in beats, parts as parts', () => expect(beatsBetween(bars, 1.5, 9)).toBeCloseTo(7.5));

  it('know the letter that was heard last, on every pass', () => {
    const one = project(bars);
    expect([1, 2, 3, 4].map((index) => letterAt(one, index))).toEqual(['', 'A', 'A', 'A']);
  });

  it('are written as a person would', () => {
    expect(clockText(125.37)).toBe('2:05.3');
    expect([gainText(-6.24), gainText(0.04), gainText(3), gainText(null)]).toEqual(['−6.2', '0.0', '+3.0', 'off']);
  });
});

describe('the pass that is shown', () => {
  it('is the one being played, the next ahead of it, the last behind it', () => {
    //            1  2  3  4  5  6
    const bars = played(1, 2, 2, 3, 1, 4);
    expect(shownPasses(bars, 1).slice(1)).toEqual([1, 2, 4, 6]);
    expect(shownPasses(bars, 3).slice(1)).toEqual([1, 3, 4, 6]);
    expect(shownPasses(bars, 5).slice(1)).toEqual([5, 3, 4, 6]);
  });

  it('follows a repeat as a whole', () => {
    const bars = played(1, 2, 3, 2, 3, 4);
    expect(shownPasses(bars, 2).slice(1)).toEqual([1, 2, 3, 6]);
    expect(shownPasses(bars, 4).slice(1)).toEqual([1, 4, 5, 6]);
  });
});

describe('lines', () => {
  it('are straight between their points and have gaps', () => {
    const line = [0, -10, 4, -6, 4, null, 8, -2, 12, -2];
    expect([valueAt(line, 2), valueAt(line, 6), valueAt(line, 9), valueAt(line, 13)]).toEqual([-8, null, -2, -2]);
    expect([isPresent(line, 4.5, 7), isPresent(line, 0, 1), isPresent(line, 7, 9)]).toEqual([false, true, true]);
  });

  it('of rides run to the bottom of the fader where one end is off', () => {
    const ride = [0, null, 4, 0, 8, 0];
    expect([gainAt(ride, 0, -60), gainAt(ride, 2, -60), gainAt(ride, 4, -60), gainAt(ride, 6, -60)]).toEqual([null, -30, 0, 0]);
  });
});

describe('what comes next', () => {
  const one = project(played(1, 2, 3, 4), [source('a.x', [0, 0, 4, 0, 6, -6, 16, -6]), source('a.y', [0, -3, 4, -3, 8, 6, 16, 6])]);

  it('stands in order, the biggest first where two coincide', () =>
    expect(movesOf(one).map((move) => [move.source, move.at, move.by])).toEqual([[1, 4, 9], [0, 4, -6]]));

  it('says how many beats there are to go, and that a move has begun', () => {
    expect(coming(one, movesOf(one), 1, 9).map((move) => move.beats)).toEqual([3, 3]);
    expect(coming(one, movesOf(one), 5, 9).map((move) => move.beats)).toEqual([0, 0]);
    expect(coming(one, movesOf(one), 8, 9)).toEqual([]);
  });
});

describe('the scale of a strip', () => {
  it('goes there and back', () => {
    for (let gain = -60; gain <= 10; gain += 0.7) expect(gainOf(placeOf(gain))).toBeCloseTo(gain, 9);
    expect([placeOf(null), placeOf(-80), placeOf(20)]).toEqual([0, 0, 1]);
  });
});
