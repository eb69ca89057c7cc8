import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { faces } from './view/fonts';

// Read as files: what a test imports of a style sheet is empty.
const read = (name) => readFileSync(join(import.meta.dirname, name), 'utf8');
const style = read('style.css');
const sheet = read('fonts.css');
const packaged = [...sheet.matchAll(/@import '([^']+)'/g)].map(([, name]) => read(`../node_modules/${name}`)).join('\n');

/** The characters that a file of a package holds. */
function held(file) {
  const rule = packaged.split('@font-face').find((one) => one.includes(`/${file})`));
  return /unicode-range: ([^;]+);/.exec(rule)[1].split(',').map((one) => one.slice(2).split('-').map((code) => parseInt(code, 16))).map(([from, to = from]) => [from, to]);
}

describe('the fonts of the page', () => {
  const ours = [...sheet.matchAll(/@font-face \{ font-family: (\w+);[^}]*url\('[^']*\/([^'/]+)'\)[^}]*\}/g)].map(([rule, family, file]) => ({ family, italic: rule.includes('italic'), file }));

  it('are asked for beforehand, named first by the style sheet, and followed there by what has other scripts', () => {
    expect(ours.map(({ family, italic }) => `${italic ? 'italic ' : ''}14px ${family}`)).toEqual(faces);
    for (const { family, file } of ours) {
      const further = packaged.split('@font-face').find((one) => one.includes(`/${file})`)).match(/font-family: ('[^']+')/)[1];
      expect(style).toMatch(new RegExp(`--${family.toLowerCase()}: ${family}, ${further}, (sans-)?serif;`));
    }
  });

  // A file of a family that is not loaded costs a font of the machine for each size: see fonts.css.
  it('come in one file each', () => expect(sheet).not.toContain('unicode-range'));

  // A sign that they lack is looked for in all fonts of the machine while the page is laid out; dialogs may do that, they are opened later.
  it('have every sign that the page is first laid out with', () => {
    const later = ['Help.svelte', 'Night.svelte', 'Handles.svelte', 'keys.ts'];
    const signs = [...new Set(readdirSync(join(import.meta.dirname, 'view')).filter((name) => !later.includes(name)).flatMap((name) => read(`view/${name}`).match(/[^\0-\x7f]/gu) ?? []))];
    expect(signs.length).toBeGreaterThan(3);
    for (const { file } of ours) expect(signs.filter((sign) => !held(file).some(([from, to]) => sign.codePointAt(0) >= from && sign.codePointAt(0) <= to)), file).toEqual([]);
  });
});
