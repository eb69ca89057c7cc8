import { IDBFactory } from 'fake-indexeddb';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Kept } from './kept';

describe('first systems that were engraved before', () => {
  beforeEach(() => vi.stubGlobal('indexedDB', new IDBFactory()));
  afterEach(() => vi.unstubAllGlobals());

  it('are found again under their key, also by the next page', async () => {
    expect(await new Kept().keep('a', '<svg/>')).toBe(true);
    const next = new Kept();
    expect(await next.find('a')).toBe('<svg/>');
    expect(await next.find('b')).toBeNull();
    await next.keep('a', '<svg id="2"/>');
    expect(await next.find('a')).toBe('<svg id="2"/>');
  });

  it('make room when they are many, the oldest first', async () => {
    const kept = new Kept();
    const now = vi.spyOn(Date, 'now');
    for (let i = 0; i < 30; i++) {
      now.mockReturnValue(1000 + i);
      await kept.keep(`${i}`, `${i}`);
    }
    now.mockRestore();
    expect(await kept.find('5')).toBeNull();
    expect(await kept.find('6')).toBe('6');
    expect(await kept.find('29')).toBe('29');
  });

  it('are none where a browser keeps nothing', async () => {
    vi.stubGlobal('indexedDB', undefined);
    const kept = new Kept();
    expect(await kept.keep('a', 'x')).toBe(false);
    expect(await kept.find('a')).toBeNull();
  });

  it('are none where the store was closed meanwhile', async () => {
    const opened = vi.spyOn(IDBFactory.prototype, 'open');
    const kept = new Kept();
    await kept.keep('a', 'x');
    (opened.mock.results[0]!.value as IDBOpenDBRequest).result.close();
    opened.mockRestore();
    expect(await kept.find('a')).toBeNull();
    expect(await kept.keep('b', 'y')).toBe(false);
  });

  it('are not waited for where a browser does not answer', async () => {
    vi.stubGlobal('indexedDB', { open: () => ({}) });
    expect(await new Kept().find('a')).toBeNull();
  });
});
