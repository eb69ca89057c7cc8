import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

// Read as files: what a test imports of a style sheet is empty.
const read = (name) => readFileSync(join(import.meta.dirname, name), 'utf8');

it('fonts of the page are asked for before it is laid out', () => {
  const fonts = [...read('style.css').matchAll(/--(?:words|figures): ([^;]+);/g)].map(([, names]) => names);
  expect(fonts).toHaveLength(2);
  for (const names of fonts) expect(read('../public/letters.svg')).toContain(`font-family="${names}"`);
});
