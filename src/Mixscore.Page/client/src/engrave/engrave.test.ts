import { describe, expect, it } from 'vitest';
import { inked, readSystem } from './geometry';
import { firstBars, withoutParts } from './parts';
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
});

describe('an endless system', () => {
  it('is cut into tiles that hold their bars and the two before', () => {
    const svg = picture(...[0, 1, 2, 3, 4].map((i) => bar(`b${i}`, staff(100 + 500 * i, 600 + 500 * i, 0))));
    const cut = tiles(svg, readSystem(svg), 2);
    expect(cut.map((tile) => [tile.first, tile.box.bars.length])).toEqual([[0, 2], [2, 2], [4, 1]]);
    expect(cut[1]!.svg).toContain('viewBox="1150 0 1000 1000"');
    expect(['b0', 'b1', 'b2', 'b3', 'b4'].map((name) => cut[2]!.svg.includes(`"${name}"`))).toEqual([false, false, true, true, true]);
    expect(cut[1]!.box.bars[0]!.left).toBe(0);
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

describe('a score without notes', () => {
  it('has its bars in lines as wide as the page', () => {
    const bars = [1, 2, 3, 1].map((written, i) => ({ index: i + 1, label: String(written), written, pass: 1, meter: '4/4', start: 4 * i, length: 4, seconds: 0, beats: [] }));
    expect(plainSystems(bars, 220, 25).map((system) => [system.firstBar, system.box.bars.length])).toEqual([[1, 2], [3, 1]]);
  });
});
