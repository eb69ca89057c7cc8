import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { faces, families } from './view/fonts';

// Read as a file: what a test imports of a style sheet is empty.
const style = readFileSync(join(import.meta.dirname, 'style.css'), 'utf8');

it('fonts that are asked for beforehand are those of the style sheet', () => {
  expect(Object.fromEntries([...style.matchAll(/--(words|figures): ([^;]+);/g)].map(([, kind, names]) => [kind, names]))).toEqual(families);
  for (const face of faces.figures) expect(style).toMatch(face === '400' ? /font: \d+px[^;]* var\(--figures\)/ : new RegExp(`font-weight: ${face}`));
  for (const face of faces.words) expect(style).toMatch(new RegExp(`font: ${face} [^;]* var\\(--words\\)`));
});
