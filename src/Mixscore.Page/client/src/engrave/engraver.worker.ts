import { readSystem, type SystemBox } from './geometry';
import { bared, inked } from './ink';
import { Kept } from './kept';
import { layers } from './layers';
import { firstBars, withoutParts } from './parts';
import { tiles } from './strip';

/** What the page asks of the engraver. */
export type Ask =
  | { kind: 'lay'; width: number; scale: number; hidden: string[]; endless: boolean; draft: boolean; ink: string; scoreKey: string; round: number }
  | { kind: 'picture'; system: number; ink: string; round: number }
  | { kind: 'seen'; round: number };

/** Whence a first system is that stands before the whole is laid: kept from before, or engraved from a few bars; `null` for what stays. */
export type Draft = 'kept' | 'few bars' | null;

/** What the engraver tells: systems in order with their first written bar (from 1), pictures as asked, and when all is laid. */
export type Told =
  | { kind: 'system'; system: number; firstBar: number; box: SystemBox; round: number; draft: Draft }
  | { kind: 'picture'; system: number; layers: Blob[]; round: number }
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
let pictures: string[] = [];
const wanted = new Map<number, string>();
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
  return answer.text();
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

/** Whether the system that is engraved is a draft, which is waited for. */
let isDraft = false;

function hand(system: number, ink: string) {
  const svg = pictures[system];
  if (svg === undefined) wanted.set(system, ink);
  // Each layer costs the browser half a megabyte, and time whenever it is drawn: only what is waited for is worth it.
  else tell({ kind: 'picture', system, layers: (isDraft ? layers(inked(svg, ink)) : [inked(svg, ink)]).map((layer) => new Blob([layer], { type: 'image/svg+xml' })), round });
}

function keep(svg: string, box: SystemBox, firstBar: number, draft: Draft, firstInk: string) {
  const system = pictures.length;
  isDraft = draft !== null;
  pictures.push(svg);
  tell({ kind: 'system', system, firstBar, box, round, draft });
  // The first is wanted in any case, and the engraver will be busy when it is asked for.
  const ink = system === 0 ? firstInk : wanted.get(system);
  if (ink !== undefined) hand(system, ink);
  wanted.delete(system);
}

/** Shows a first system before the rest is laid; true when the page has asked for something else meanwhile. */
async function showFirst(svg: string, draft: Draft, ask: Extract<Ask, { kind: 'lay' }>): Promise<boolean> {
  // Engraving takes every core that there is, and the first system would wait for them to be drawn.
  const shown = new Promise<void>((resolve) => {
    seen = resolve;
    setTimeout(resolve, mostPutOff);
  });
  keep(svg, readSystem(svg), 1, draft, ask.ink);
  await shown;
  return round !== ask.round;
}

async function lay(ask: Extract<Ask, { kind: 'lay' }>) {
  [round, pictures] = [ask.round, []];
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
    if (ask.endless) for (const tile of tiles(svg, box, tileBars)) keep(tile.svg, tile.box, bar + tile.first, null, ask.ink);
    else keep(svg, box, bar, null, ask.ink);
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
  else if (data.kind === 'picture') hand(data.system, data.ink);
  else seen();
};
