/** Fonts as wide as Times, by which the engraver measures its words; where there is none, the narrowest that Debian brings. */
const words = "Times, 'DejaVu Serif Condensed', serif";

/** Letters are laid out as large as they are written and then shrunk, so that at each size of the page they are the same fonts to a browser. */
const rendering = 'text-rendering="geometricPrecision"';

/** The picture in other ink, as it is shown on a dark or a light page, and its words in the first of these families that has them. */
export function inked(svg: string, ink: string, families: string[] = []): string {
  return svg.replace('color="black"', `color="${ink}" fill="${ink}" ${rendering}`).replace('font-family="Times, serif"', `font-family="${[...families.map((one) => `'${one}'`), words].join(', ')}"`);
}

/** The picture without what draws nothing: groups that hold nothing, names that nothing refers to, and the space between. */
export function bared(svg: string): string {
  const bars = svg.indexOf('class="page-margin"');
  return svg.slice(0, Math.max(0, bars)) + svg.slice(Math.max(0, bars)).replace(/<g [^>]*\/>/g, '').replace(/(<(?:g|path|rect|tspan|text)) id="[^"]*"/g, '$1').replace(/>\s+</g, '><');
}
