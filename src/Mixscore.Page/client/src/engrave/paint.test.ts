import { describe, expect, it } from 'vitest';
import { NotKnown, readPicture } from './paint';

const root = (inside: string, style = '') => `<svg viewBox="0 0 40 10">${style}<svg viewBox="0 0 400 100" color="black">${inside}</svg></svg>`;

/** A canvas that notes what is written on it, each letter as wide as a tenth of its font. */
function noted() {
  const words: [string, number, number, string][] = [];
  const context = {
    font: '',
    measureText: (text: string) => ({ width: (text.length * parseFloat(/([\d.]+)px/.exec(context.font)![1]!)) / 10 }),
    fillText: (text: string, x: number, y: number) => words.push([text, x, y, context.font]),
    save: () => 0,
    restore: () => 0,
    translate: () => 0,
    scale: () => 0,
  };
  return { words, context: context as unknown as CanvasRenderingContext2D };
}

function written(inside: string, style?: string) {
  const { words, context } = noted();
  readPicture(root(inside, style)).paint(context, 40, 10);
  return words;
}

describe('the painter of a system', () => {
  it('anchors the words of one place together', () => {
    const runs = '<tspan><tspan font-size="20px">ab</tspan><tspan font-size="40px">cd</tspan></tspan>';
    const places = (anchor: string) => written(`<text x="100" y="7" font-size="0px" text-anchor="${anchor}">${runs}</text>`).map(([, x, y]) => [x, y]);
    // Two letters of 2 and two of 4: 12 in all.
    expect(['start', 'middle', 'end'].map(places)).toEqual([[[100, 7], [104, 7]], [[94, 7], [98, 7]], [[88, 7], [92, 7]]]);
  });

  it('writes no space that is only there for the reader of the file', () =>
    expect(written('<text x="1" y="2">\n  <tspan font-size="10px">Fog  &amp;\n rain </tspan>\n</text>').map(([text]) => text)).toEqual(['Fog & rain']));

  it('takes style from rules, from classes before tags, and hands it down', () => {
    const style = '<style>g.a, g.b {font-weight:bold;} text {font-style:italic} #one g.b.c {font-weight:normal}</style>';
    const font = (group: string) => written(`<g class="${group}"><text x="0" y="0" font-size="9px" font-family="X"><tspan>i</tspan></text></g>`, style)[0]![3];
    expect(['a', 'b c', 'd'].map(font)).toEqual(['italic bold 9px X', 'italic normal 9px X', 'italic normal 9px X']);
  });

  it('takes fonts out of a picture', () =>
    expect(readPicture(root('', "<style>@font-face { font-family: 'F'; src: url(data:application/font-woff2;charset=utf-8;base64,d09GMg==) format('woff2'); }</style>")).fonts).toEqual([{ family: 'F', file: 'd09GMg==' }]));

  it.each([
    '<circle r="3" />',
    '<path d="M0 0" filter="url(#f)" />',
    '<path d="M0 0" style="fill:red" />',
    '<use href="#nowhere" />',
    '<g transform="matrix(1 0 0 1 0 0)"><text x="0" y="0">a</text></g>',
    '<text x="1em" y="0">a</text>',
    '<text x="0" y="0" font-size="2em">a</text>',
    '<text x="0" y="0" fill="url(#wood)">a</text>',
    '<text x="0" y="0">a<tspan y="9">b</tspan></text>',
    '<g><path d="M0 0" /></svg></g>',
    '<path d=M0 />',
  ])('leaves what it does not know to the browser: %s', (inside) => expect(() => written(inside)).toThrow(NotKnown));

  it.each(['text:hover {fill:red}', 'text {filter:none}', '@media print {text {fill:red}}', '@font-face {src: url(there)}'])('leaves style that it does not know to the browser: %s', (rule) =>
    expect(() => readPicture(root('', `<style>${rule}</style>`))).toThrow(NotKnown));

  it('refuses every picture that breaks off, and nothing else happens', () => {
    const whole = root('<g class="a"><text x="1" y="2" font-size="3px">&lt;w&gt;</text></g>', '<style>g.a {font-weight:bold}</style>');
    for (let end = 0; end < whole.length; end++) expect(() => readPicture(whole.slice(0, end)), whole.slice(0, end)).toThrow(NotKnown);
    expect(() => readPicture(whole)).not.toThrow();
  });
});
