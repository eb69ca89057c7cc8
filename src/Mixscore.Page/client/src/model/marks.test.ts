import { describe, expect, it } from 'vitest';
import { beatFrom, handlesOf, levelWith, nearestBeat, pinAt, positions, type Written } from './marks';
import type { Source } from './project';

const mark = (key: string, text: string, at: number, until: number | null, start: number | null, end: number | null): Written => ({ key, text, at, until, start, end });

describe('a level that a hand moves', () => {
  it('is written as a person writes it', () => {
    expect(levelWith(mark('5', '-6', 16, null, -6, -6), 'start', -7.5)).toBe('-7.5');
    expect(levelWith(mark('5', 'mf', 16, null, -9, -9), 'start', -8)).toBe('-8');
    expect(levelWith(mark('5', 'off', 16, null, null, null), 'start', -20)).toBe('-20');
  });

  it('keeps the other end as it was written', () => {
    const move = mark('9..13', 'pp > -6', 32, 48, -24, -6);
    expect(levelWith(move, 'end', -4)).toBe('pp > -4');
    expect(levelWith(move, 'start', -20.5)).toBe('-20.5 > -6');
    expect(levelWith(mark('9..13', '-6', 32, 48, -6, -6), 'end', -2)).toBe('-6 > -2');
  });

  it('keeps what it must be clear by, and leaves alone what leans on others', () => {
    expect(levelWith(mark('5', '-3 clear 4 LU', 16, null, -3, -3), 'start', -2)).toBe('-2 clear 4 LU');
    expect(levelWith(mark('5', 'under a.horn by 8', 16, null, null, null), 'start', -2)).toBeNull();
  });
});

describe('places', () => {
  const beats = [0, 1, 2, 3, 4, 5.5, 7];
  it('are beats', () => {
    expect(nearestBeat(beats, 4.9)).toBe(5.5);
    expect(beatFrom(beats, 4, 1)).toBe(5.5);
    expect(beatFrom(beats, 0, -1)).toBe(0);
    expect(beatFrom(beats, 7, 4)).toBe(7);
  });

  it('are read from a key', () => {
    expect(positions('9..13')).toEqual(['9', '13']);
    expect(positions('C+4:1')).toEqual(['C+4:1', '']);
  });
});

it('every mark, range end and vertex can be taken', () => {
  const source = { marks: [mark('1', '-6', 0, null, -6, -6), mark('2..3', '-6 > -3', 4, 8, -6, -3)], pins: [mark('2', '-4 dB', 4, null, -4, -4)], ride: [0, -2, 4, -4, 16, null] } as unknown as Source;
  expect(handlesOf(source).map((one) => `${one.kind} ${one.at} ${one.value}`)).toEqual(['start 0 -6', 'start 4 -6', 'end 8 -3', 'vertex 0 -2', 'vertex 4 -4', 'vertex 16 null']);
  expect(pinAt(source, 4)?.text).toBe('-4 dB');
  expect(pinAt(source, 5)).toBeNull();
});
