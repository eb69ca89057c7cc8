import { readSystem, type SystemBox } from './geometry';
import { bared, inked } from './ink';
import { Kept } from './kept';
import { readPicture, type Canvas2D } from './paint';
import { firstBars, legible, withoutParts } from './parts';
import { tiles } from './strip';
import { wordsOf } from './words';

/** In what ink a picture is, and how many of the screen's pixels a pixel of the page has. */
interface Looks {
  ink: string;
  ratio: number;
}

/** What the page asks of the engraver. */
export type Ask =
  | { kind: 'lay'; width: number; scale: number; hidden: string[]; endless: boolean; draft: boolean; scoreKey: string; round: number } & Looks
  | { kind: 'picture'; system: number; round: number } & Looks
  | { kind: 'seen'; round: number };

/** Whence a first system is that stands before the whole is laid: kept from before, or engraved from a few bars; `null` for what stays. */
export type Draft = 'kept' | 'few bars' | null;

/** What the engraver tells: systems in order with their first written bar (from 1), pictures as asked, painted where that can be done here, and when all is laid. */
export type Told =
  | { kind: 'system'; system: number; firstBar: number; box: SystemBox; round: number; draft: Draft }
  | { kind: 'picture'; system: number; picture: ImageBitmap | Blob; round: number }
  | { kind: 'laid'; systems: number; round: number }
  | { kind: 'kept'; round: number }
  | { kind: 'failed'; why: string; round: number };

interface Toolkit {
  setOptions(options: object): void;
  loadData(data: string): boolean | number;
  getPageCount(): number;
  renderToSVG(page: number): string;
}

const draftBars = 7;
const tileBars = 6;
const tell = (told: Told) => postMessage(told);
const kept = new Kept();
let begun: Promise<[Toolkit, string]> | null = null;
let round = 0;
/** Screen pixels a unit of a picture, before those of the screen are finer. */
let unit = 0;
let pictures: { svg: string; box: SystemBox }[] = [];
const wanted = new Map<number, Looks>();
/** Called when the page shows the first system. */
let seen = () => {};
/** For how long the rest is put off for the first system's sake, in milliseconds. */
const mostPutOff = 1500;

function begin(): Promise<[Toolkit, string]> {
  if (!begun) {
    begun = Promise.all([start(), fetchScore()]);
    begun.catch(() => undefined);
  }
  return begun;
}

async function start(): Promise<Toolkit> {
  const base = new URL('/verovio/', location.origin).href;
  const [{ default: create }, { VerovioToolkit }] = await Promise.all([
    import(/* @vite-ignore */ base + 'verovio-module.mjs') as Promise<{ default: () => Promise<object> }>,
    import(/* @vite-ignore */ base + 'verovio.mjs') as Promise<{ VerovioToolkit: new (module: object) => Toolkit }>,
  ]);
  return new VerovioToolkit(await create());
}

async function fetchScore(): Promise<string> {
  const answer = await fetch('/score.xml');
  if (!answer.ok) throw new Error(`the server does not give it: ${answer.status}`);
  return legible(await answer.text());
}

function options(ask: Extract<Ask, { kind: 'lay' }>): object {
  return {
    breaks: ask.endless ? 'none' : 'auto',
    systemMaxPerPage: 1,
    adjustPageHeight: true,
    adjustPageWidth: ask.endless,
    pageHeight: 60000,
    pageWidth: Math.min(100000, Math.max(400, Math.round((ask.width * 100) / ask.scale))),
    scale: 100,
    // Names are wider in fonts that are wider than Times.
    pageMarginLeft: 30,
    pageMarginRight: 0,
    pageMarginTop: 25,
    pageMarginBottom: 25,
    header: 'none',
    footer: 'none',
    condense: 'auto',
    condenseFirstPage: true,
    condenseTempoPages: true,
    svgViewBox: true,
    svgRemoveXlink: true,
    mnumInterval: 1,
  };
}

const picture = (engraver: Toolkit, page: number) => bared(engraver.renderToSVG(page));

const breath = () => new Promise<void>((resolve) => setTimeout(resolve, 0));

/** How many pixels are painted here, at most: a larger picture would take too much memory, and the browser draws only what is in sight of it. */
const mostPixels = 8_000_000;
const fonts = new Map<string, Promise<unknown>>();

/** From its file: a page that lets nothing foreign in lets no font in by an address of its own either. */
async function load(family: string, file: string) {
  const face = await new FontFace(family, Uint8Array.from(atob(file), (one) => one.charCodeAt(0))).load();
  (self as unknown as FontFaceSource).fonts.add(face);
}

/** @returns `null` where the browser must draw the picture itself. */
async function painted(svg: string, box: SystemBox, ratio: number): Promise<ImageBitmap | null> {
  const [width, height] = [box.width, box.height].map((side) => Math.max(1, Math.round(Math.round(side * unit) * ratio))) as [number, number];
  if (width * height > mostPixels || typeof OffscreenCanvas === 'undefined') return null;
  try {
    const picture = readPicture(svg);
    for (const { family, file } of picture.fonts) {
      if (!fonts.has(file)) fonts.set(file, load(family, file));
      await fonts.get(file);
    }
    const canvas = new OffscreenCanvas(width, height);
    const context: Canvas2D | null = canvas.getContext('2d');
    if (!context) return null;
    picture.paint(context, width, height);
    return canvas.transferToImageBitmap();
  } catch (e) {
    console.warn(`A system is left to the browser to draw: ${e instanceof Error ? e.message : String(e)}`);
    return null;
  }
}

async function drawn({ svg, box }: { svg: string; box: SystemBox }, looks: Looks): Promise<ImageBitmap | Blob> {
  const shown = inked(svg, looks.ink, await wordsOf(svg));
  return (await painted(shown, box, looks.ratio)) ?? new Blob([shown], { type: 'image/svg+xml' });
}

const give = (system: number, picture: ImageBitmap | Blob) =>
  postMessage({ kind: 'picture', system, picture, round } satisfies Told, { transfer: picture instanceof Blob ? [] : [picture] });

async function hand(system: number, looks: Looks) {
  const [mine, one] = [round, pictures[system]];
  if (!one) {
    wanted.set(system, looks);
    return;
  }
  const picture = await drawn(one, looks);
  if (mine === round) give(system, picture);
}

async function keep(svg: string, box: SystemBox, firstBar: number, draft: Draft, first: Looks) {
  const [mine, system] = [round, pictures.length];
  pictures.push({ svg, box });
  // The first is wanted in any case, and the engraver will be busy when it is asked for.
  const looks = system === 0 ? first : wanted.get(system);
  wanted.delete(system);
  // Painted before it is told of: where another stood, there is none without notes in between.
  const picture = looks ? await drawn({ svg, box }, looks) : null;
  if (mine !== round) return;
  tell({ kind: 'system', system, firstBar, box, round, draft });
  if (picture) give(system, picture);
}

/** Shows a first system before the rest is laid; true when the page has asked for something else meanwhile. */
async function showFirst(svg: string, draft: Draft, ask: Extract<Ask, { kind: 'lay' }>): Promise<boolean> {
  // Engraving takes every core that there is, and the first system would wait for them to be drawn.
  const shown = new Promise<void>((resolve) => {
    seen = resolve;
    setTimeout(resolve, mostPutOff);
  });
  await keep(svg, readSystem(svg), 1, draft, ask);
  await shown;
  return round !== ask.round;
}

async function lay(ask: Extract<Ask, { kind: 'lay' }>) {
  [round, unit, pictures] = [ask.round, ask.scale / 1000, []];
  wanted.clear();
  const stale = () => round !== ask.round;
  const key = ask.endless ? null : JSON.stringify([ask.scoreKey, ask.hidden, options(ask)]);
  const before = key && ask.draft ? await kept.find(key) : null;
  if (stale()) return;
  if (before && (await showFirst(before, 'kept', ask))) return;
  const [engraver, written] = await begin();
  if (stale()) return;
  engraver.setOptions(options(ask));
  const xml = withoutParts(written, ask.hidden);
  if (ask.draft && !ask.endless && !before) {
    if (!engraver.loadData(firstBars(xml, draftBars))) throw new Error('the engraver cannot read this score');
    if (await showFirst(picture(engraver, 1), 'few bars', ask)) return;
  }
  if (!engraver.loadData(xml)) throw new Error('the engraver cannot read this score');
  if (stale()) return;
  if (ask.draft && !ask.endless) pictures = [];
  const pages = engraver.getPageCount();
  let bar = 1;
  for (let page = 1; page <= pages; page++) {
    const svg = picture(engraver, page);
    const box = readSystem(svg);
    for (const tile of ask.endless ? tiles(svg, box, tileBars) : [{ svg, box, first: 0 }]) {
      await keep(tile.svg, tile.box, bar + tile.first, null, ask);
      if (stale()) return;
    }
    if (key && page === 1) void kept.keep(key, svg).then((is) => is && tell({ kind: 'kept', round }));
    bar += box.bars.length;
    await breath();
    if (stale()) return;
  }
  tell({ kind: 'laid', systems: pictures.length, round });
}

onmessage = ({ data }: MessageEvent<Ask>) => {
  if (data.kind === 'lay') lay(data).catch((e: unknown) => tell({ kind: 'failed', why: e instanceof Error ? e.message : String(e), round: data.round }));
  else if (data.round !== round) return;
  else if (data.kind === 'picture') void hand(data.system, data);
  else seen();
};
