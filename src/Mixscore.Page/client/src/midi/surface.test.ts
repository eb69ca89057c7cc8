import { describe, expect, it } from 'vitest';
import { read, Surface } from './surface';

describe('messages', () => {
  // MIDI 1.0 Detailed Specification, table II: control change, pitch bend (least significant byte first), note on.
  it('are read by kind and channel', () => {
    expect(read([0xb0, 7, 127])).toEqual({ id: 'cc/1/7', value: 1 });
    expect(read([0xb8, 7, 0])).toEqual({ id: 'cc/9/7', value: 0 });
    expect(read([0xe2, 0x7f, 0x7f])).toEqual({ id: 'bend/3', value: 1 });
    expect(read([0x90, 36, 100])).toEqual({ id: 'note/1/36', value: 1 });
    expect(read([0x90, 36, 0])).toBeNull();
    expect(read([0xf8])).toBeNull();
  });
});

describe('a surface', () => {
  const at = (place: number) => () => place;
  const held = () => true;
  const free = () => false;

  function taught(): Surface {
    const surface = new Surface();
    surface.learn({ do: 'fader', source: 'a.voice' });
    surface.take({ id: 'cc/1/7', value: 0.2 }, at(0.8), free);
    surface.take({ id: 'cc/1/7', value: 0.5 }, at(0.8), free);
    return surface;
  }

  it('learns a fader that is moved, not one that trembles, and not a button', () => {
    const surface = new Surface();
    surface.learn({ do: 'fader', source: 'a.voice' });
    expect(surface.take({ id: 'cc/1/3', value: 0.5 }, at(0), free)).toBeNull();
    expect(surface.take({ id: 'cc/1/3', value: 0.51 }, at(0), free)).toBeNull();
    expect(surface.take({ id: 'note/1/36', value: 1 }, at(0), free)).toBeNull();
    expect(surface.take({ id: 'cc/1/7', value: 0.1 }, at(0), free)).toBeNull();
    expect(surface.take({ id: 'cc/1/7', value: 0.3 }, at(0), free)).toBe('learned');
    expect(surface.controlOf({ do: 'fader', source: 'a.voice' })).toBe('cc/1/7');
    expect(surface.isLearning).toBe(false);
  });

  it('takes a source only where it meets or passes it', () => {
    const surface = taught();
    expect(surface.take({ id: 'cc/1/7', value: 0.6 }, at(0.8), free)).toBeNull();
    expect(surface.take({ id: 'cc/1/7', value: 0.9 }, at(0.8), free)).toEqual({ do: 'take', source: 'a.voice', place: 0.9 });
    expect(surface.take({ id: 'cc/1/7', value: 0.3 }, at(0.9), held)).toEqual({ do: 'take', source: 'a.voice', place: 0.3 });
    // Handed back, it is elsewhere soon: the fader has to meet it anew.
    expect(surface.take({ id: 'cc/1/7', value: 0.32 }, at(0.7), free)).toBeNull();
  });

  it('hands back by a button, once a press', () => {
    const surface = taught();
    surface.learn({ do: 'back', source: 'a.voice' });
    expect(surface.take({ id: 'cc/1/64', value: 1 }, at(0), held)).toBe('learned');
    expect(surface.take({ id: 'cc/1/64', value: 1 }, at(0), held)).toBeNull();
    surface.take({ id: 'cc/1/64', value: 0 }, at(0), held);
    expect(surface.take({ id: 'cc/1/64', value: 1 }, at(0), held)).toEqual({ do: 'back', source: 'a.voice' });
  });

  it('gives a control one job and a job one control', () => {
    const surface = taught();
    surface.learn({ do: 'fader', source: 'a.voice' });
    surface.take({ id: 'cc/1/8', value: 0 }, at(0), free);
    surface.take({ id: 'cc/1/8', value: 1 }, at(0), free);
    expect([...surface.jobs]).toEqual([['cc/1/8', { do: 'fader', source: 'a.voice' }]]);
    surface.forget();
    expect(surface.jobs.size).toBe(0);
  });
});
