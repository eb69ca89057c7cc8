import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import createModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bared, inked } from './ink';
import { legible } from './parts';

/** A browser is asked to draw each system as the SVG 1.1 that it is: what is painted must look the same. */
describe.skipIf(!process.env.MIXSCORE_OUTSIDE)("beside the browser's own drawing", async () => {
  const here = import.meta.dirname;
  const repository = join(here, '../../../../..');
  const folders = [join(repository, 'scores'), join(repository, '../shared/scores')].filter(existsSync);
  const scores = folders.flatMap((folder) => readdirSync(folder).filter((name) => /\.(musicxml|xml|mxl)$/.test(name)).map((name) => join(folder, name)));
  const engraver = new VerovioToolkit(await createModule());
  let browser;
  let compare;

  beforeAll(async () => {
    const built = await build({
      configFile: false,
      logLevel: 'error',
      build: { write: false, minify: false, lib: { entry: join(here, 'paint.ts'), formats: ['iife'], name: 'Paint', fileName: 'paint' } },
    });
    browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu'] });
    const page = await browser.newPage();
    await page.addScriptTag({ content: built[0].output[0].code });
    compare = (svg) => page.evaluate(compareInPage, svg);
  }, 60_000);
  afterAll(() => browser?.close());

  it.each(scores.map((path) => [path.split('/').at(-1), path]))('%s', { timeout: 120_000 }, async (_, path) => {
    engraver.setOptions({
      breaks: 'auto', systemMaxPerPage: 1, adjustPageHeight: true, pageHeight: 60000, pageWidth: 3200, scale: 100, header: 'none', footer: 'none',
      condense: 'auto', svgViewBox: true, svgRemoveXlink: true, mnumInterval: 1,
    });
    expect(path.endsWith('.mxl') ? engraver.loadZipDataBuffer(new Uint8Array(readFileSync(path)).buffer) : engraver.loadData(legible(readFileSync(path, 'utf8')))).toBeTruthy();
    const pages = engraver.getPageCount();
    expect(pages).toBeGreaterThan(0);
    // Long scores are sampled: their first systems, and some from each part.
    for (let page = 1; page <= pages; page += page < 5 ? 1 : Math.ceil(pages / 12)) {
      const { ink, off, apart } = await compare(inked(bared(engraver.renderToSVG(page)), '#000000'));
      expect(ink, `system ${page}: pixels of ink`).toBeGreaterThan(100);
      // Edges are smoothed a little differently; a sign that is missing, or stands a pixel off, is tens of levels.
      expect(off, `system ${page}: grey levels that the darkest 8 by 8 pixels are off`).toBeLessThan(10);
      expect(apart, `system ${page}: how much ink is elsewhere`).toBeLessThan(0.02);
    }
  });
});

/** Runs in the browser. */
async function compareInPage(svg) {
  const { readPicture } = globalThis.Paint;
  const [, wide, high] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg).map(Number);
  const [width, height] = [Math.round(wide * 0.31), Math.round(high * 0.31)];
  const canvas = () => {
    const context = Object.assign(document.createElement('canvas'), { width, height }).getContext('2d', { willReadFrequently: true });
    context.fillStyle = '#fff';
    context.fillRect(0, 0, width, height);
    return context;
  };
  const [theirs, ours] = [canvas(), canvas()];
  const image = new Image(width, height);
  image.src = URL.createObjectURL(new Blob([svg.replaceAll(' viewBox=', ' preserveAspectRatio="none" viewBox=')], { type: 'image/svg+xml' }));
  await image.decode();
  theirs.drawImage(image, 0, 0, width, height);
  const picture = readPicture(svg);
  for (const { family, file } of picture.fonts) document.fonts.add(await new FontFace(family, Uint8Array.from(atob(file), (one) => one.charCodeAt(0))).load());
  picture.paint(ours, width, height);
  const [a, b] = [theirs, ours].map((context) => context.getImageData(0, 0, width, height).data);
  const cells = new Map();
  let [ink, differs] = [0, 0];
  for (let i = 0; i < width * height; i++) {
    const difference = a[4 * i] - b[4 * i];
    ink += 255 - a[4 * i];
    differs += Math.abs(difference);
    const cell = 10_000 * Math.floor(Math.floor(i / width) / 8) + Math.floor((i % width) / 8);
    cells.set(cell, (cells.get(cell) ?? 0) + difference);
  }
  return { ink: ink / 255, off: Math.max(...[...cells.values()].map((sum) => Math.abs(sum) / 64)), apart: differs / ink };
}
