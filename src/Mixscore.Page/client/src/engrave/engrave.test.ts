import createModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { describe, expect, it } from 'vitest';
import { splitBars } from './bars';
import { readSystem } from './geometry';
import { bared, inked } from './ink';
import { firstBars, legible, withoutParts } from './parts';
import { plainSystems } from './plain';
import { tiles } from './strip';

const staff = (left: number, right: number, y: number) => `<path d="M${left} ${y} L${right} ${y}" stroke-width="13" />`;
const bar = (name: string, inside: string) => `<g id="${name}" class="measure"><g class="staff">${inside}</g></g>`;
const picture = (...bars: string[]) =>
  `<svg viewBox="0 0 400 100" version="1.1"><svg class="definition-scale" color="black" viewBox="0 0 4000 1000"><g class="page-margin" transform="translate(50, 20)"><g class="system">${bars.join('')}</g></g></svg></svg>`;

describe('the geometry of a system', () => {
  it('takes all staves together, since some may be hidden in places', () => {
    const system = readSystem(picture(bar('a', staff(100, 1100, 0)), bar('b', staff(1100, 1900, 0) + staff(1100, 2000, 300))));
    expect(system.bars.map(({ left, right }) => [left, right])).toEqual([[150, 1150], [1150, 2050]]);
    expect([system.width, system.height]).toEqual([4000, 1000]);
  });

  it('begins the time of the first bar after its clef and key', () => {
    const head = '<g class="notehead"><use href="#x" transform="translate(420, 7) scale(1)" /></g>';
    expect(readSystem(picture(bar('a', staff(100, 1100, 0) + head), bar('b', staff(1100, 1900, 0) + head))).bars.map(({ music }) => music)).toEqual([470, 1150]);
  });

  it('does not take ledger lines and stems for staves', () =>
    expect(readSystem(picture(bar('a', staff(100, 1100, 0) + staff(20, 220, 5) + '<path d="M90 0 L90 900" stroke-width="18" />'))).bars[0]!.left).toBe(150));

  it('is drawn in another ink', () => expect(inked(picture(), '#fff')).toContain('color="#fff" fill="#fff"'));
  it('has its words in fonts that are there', () => expect(inked('<svg font-family="Times, serif">', '#fff', ['Words latin'])).toContain(`font-family="'Words latin', Times, `));
});

describe('an endless system', () => {
  it('is cut into tiles that hold their bars, the two before and the one after', () => {
    const svg = picture(...[0, 1, 2, 3, 4].map((i) => bar(`b${i}`, staff(100 + 500 * i, 600 + 500 * i, 0))));
    const cut = tiles(svg, readSystem(svg), 2);
    expect(cut.map((tile) => [tile.first, tile.box.bars.length])).toEqual([[0, 2], [2, 2], [4, 1]]);
    expect(cut[1]!.svg).toContain('viewBox="1150 0 1000 1000"');
    expect(['b0', 'b1', 'b2', 'b3', 'b4'].map((name) => cut[2]!.svg.includes(`"${name}"`))).toEqual([false, false, true, true, true]);
    expect(['b2', 'b3'].map((name) => cut[0]!.svg.includes(`"${name}"`))).toEqual([true, false]);
    expect(cut[1]!.box.bars[0]!.left).toBe(0);
  });
});

const note = (step: string) => `<note><pitch><step>${step}</step><octave>4</octave></pitch><duration>1</duration><type>quarter</type></note>`;
const measures = [1, 2, 3, 4].map(
  (number) =>
    `<measure number="${number}">${number === 1 ? '<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes><direction placement="above"><direction-type><words font-style="italic">calm</words></direction-type></direction>' : ''}${'CDEF'.split('').map(note).join('')}</measure>`,
);
const score = `<score-partwise><part-list><score-part id="P1"><part-name>Horn</part-name></score-part></part-list><part id="P1">${measures.join('')}</part></score-partwise>`;

describe('what the engraver draws', async () => {
  const engraver = new VerovioToolkit(await createModule());
  engraver.setOptions({ adjustPageHeight: true, svgViewBox: true, header: 'none', footer: 'none', breaks: 'none' });
  engraver.loadData(score);
  const svg: string = engraver.renderToSVG(1);
  const count = (text: string, tag: string) => text.split(`<${tag} `).length - 1;

  it('has groups that hold nothing, and is taken apart between its bars all the same', () => {
    expect(svg).toMatch(/<g [^>]*class="[^"]*" \/>/);
    const split = splitBars(svg)!;
    expect(split.bars.map((text) => count(text, 'use') > 0)).toEqual([true, true, true, true]);
    expect(split.head + split.bars.join('') + split.tail).toBe(svg);
    expect(splitBars(svg.slice(0, svg.lastIndexOf('class="measure')) + 'class="measure"><g>')).toBeNull();
    expect(tiles(svg, readSystem(svg), 2)).toHaveLength(2);
  });

  it('is drawn the same without what draws nothing', () => {
    const less = bared(svg);
    expect(less.length).toBeLessThan(0.8 * svg.length);
    expect(readSystem(less)).toEqual(readSystem(svg));
    for (const tag of ['use', 'path', 'rect', 'text']) expect(count(less, tag)).toBe(count(svg, tag));
    for (const [, name] of less.matchAll(/href="#([^"]+)"/g)) expect(less).toContain(`id="${name}"`);
    expect(less.match(/calm/g)).toHaveLength(1);
  });
});

describe('parts', () => {
  const xml = '<score-partwise><part-list><score-part id="P1"><part-name>A</part-name></score-part><score-part id="P10"><part-name>B</part-name></score-part></part-list><part id="P1"><measure number="1">a</measure><measure number="2">b</measure></part><part id="P10"><measure number="1">c</measure><measure number="2">d</measure></part></score-partwise>';

  it('are left out whole', () => {
    const left = withoutParts(xml, ['P1']);
    expect(left).not.toContain('P1"');
    expect(left).toContain('<part id="P10"><measure number="1">c');
  });

  it('are cut to their first bars', () =>
    expect(firstBars(xml, 1)).toMatch(/<part id="P1"><measure number="1">a<\/measure><\/part><part id="P10"><measure number="1">c<\/measure><\/part><\/score-partwise>$/));

  it('shorter than that are whole', () => expect(firstBars(xml, 9)).toBe(xml));
});

describe('bars without a meter', async () => {
  const engraver = new VerovioToolkit(await createModule());
  const free = score.replace('<measure number="3">', '<measure number="3"><attributes><time><senza-misura/></time></attributes>');

  it('are engraved without one', () => {
    expect(free).not.toBe(score);
    expect(engraver.loadData(legible(free))).toBeTruthy();
    expect(readSystem(engraver.renderToSVG(1)).bars).toHaveLength(4);
  });

  it.each(['<time><senza-misura/></time>', '<time print-object="no">\n<senza-misura>X</senza-misura>\n</time>', '<time>\n  <senza-misura print-object="yes" />\n</time>'])('are known by %j', (time) => expect(legible(`a${time}b`)).toBe('ab'));

  it('leave all other meters as they are', () => expect(legible(score)).toBe(score));
});

describe('a score that is written bar by bar', async () => {
  const engraver = new VerovioToolkit(await createModule());
  const bars = (part: string) => measures.map((bar) => bar.replace(/^(<measure[^>]*>)([\s\S]*)<\/measure>$/, `$1|${part}$2</part>`).split('|') as [string, string]);
  const [one, two] = [bars('<part id="P1">'), bars('<part id="P2">')];
  const list = '<part-list><score-part id="P1"><part-name>Horn</part-name></score-part><score-part id="P2"><part-name>Bell</part-name></score-part></part-list>';
  const timewise = `<score-timewise version="4.0">${list}${one.map(([opening, inside], i) => `${opening}${inside}${two[i]![1]}</measure>`).join('')}</score-timewise>`;

  it('is engraved as if it were written part by part', () => {
    const parts = ['P1', 'P2'].map((id) => `<part id="${id}">${measures.join('')}</part>`).join('');
    expect(legible(timewise)).toBe(`<score-partwise version="4.0">${list}${parts}</score-partwise>`);
    expect(engraver.loadData(legible(timewise))).toBeTruthy();
    const svg: string = engraver.renderToSVG(1);
    expect(readSystem(svg).bars).toHaveLength(4);
    expect(['Horn', 'Bell'].map((name) => svg.includes(name))).toEqual([true, true]);
  });
});

describe('a score without notes', () => {
  it('has its bars in lines as wide as the page', () => {
    const bars = [1, 2, 3, 1].map((written, i) => ({ index: i + 1, label: String(written), written, pass: 1, meter: '4/4', start: 4 * i, length: 4, seconds: 0, beats: [] }));
    expect(plainSystems(bars, 220, 25).map((system) => [system.firstBar, system.box.bars.length])).toEqual([[1, 2], [3, 1]]);
  });
});
