import { afterEach, beforeEach, expect, it, vi } from 'vitest';

const loaded: string[] = [];
let lacking = '';

beforeEach(() => {
  loaded.length = 0;
  lacking = '';
  vi.resetModules();
  vi.stubGlobal('self', { fonts: { add: () => undefined } });
  vi.stubGlobal(
    'FontFace',
    class {
      constructor(
        private readonly family: string,
        private readonly url: string,
        private readonly how: { weight: string; style: string },
      ) {}
      load = () => {
        if (lacking && this.url.includes(lacking)) return Promise.reject(new Error('404'));
        loaded.push(`${this.family} ${this.how.weight} ${this.how.style}`);
        return Promise.resolve(this);
      };
    },
  );
});
afterEach(() => vi.unstubAllGlobals());

it('loads the faces and scripts that a picture is written in, and each once', async () => {
  const { wordsOf } = await import('./words');
  expect(await wordsOf('<svg><text>p</text></svg>')).toEqual(['Words latin']);
  expect(loaded).toEqual(['Words latin 400 normal']);
  expect(await wordsOf('<svg><text font-style="italic">dolce</text></svg>')).toEqual(['Words latin']);
  expect(await wordsOf('<svg><text font-style="italic">dolce</text></svg>')).toEqual(['Words latin']);
  expect(loaded).toEqual(['Words latin 400 normal', 'Words latin 400 italic']);
  expect(await wordsOf('<svg><text font-weight="bold">Dvořák, Скрипка</text></svg>')).toEqual(['Words latin', 'Words latin-ext', 'Words cyrillic']);
  expect(loaded.filter((one) => one.includes('cyrillic'))).toEqual(['Words cyrillic 400 normal', 'Words cyrillic 700 normal']);
});

it('does without a face that cannot be had, and says so', async () => {
  const warn = vi.spyOn(console, 'warn').mockImplementation(() => undefined);
  const { wordsOf } = await import('./words');
  lacking = 'tinos-greek-';
  expect(await wordsOf('<svg><text>Βιολί</text></svg>')).toEqual(['Words latin']);
  expect(warn.mock.calls[0]![0]).toContain('another font');
});
