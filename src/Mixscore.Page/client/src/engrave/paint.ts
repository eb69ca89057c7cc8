/** What is painted on: a canvas of the page or of a worker. */
export type Canvas2D = OffscreenCanvasRenderingContext2D | CanvasRenderingContext2D;

/** A picture that was read, with the fonts that it brings: their files, written in base 64. */
export interface Picture {
  fonts: { family: string; file: string }[];
  /** Paints it so that it fills so many device pixels: whole pixels, so that it is wider or higher than its own shape by less than one. */
  paint(context: Canvas2D, width: number, height: number): void;
}

/** The picture holds something that is not known here: the browser must draw it. */
export class NotKnown extends Error {}

interface Tag {
  name: string;
  attributes: Map<string, string>;
  inside: (Tag | string)[];
}

interface Rule {
  tag: string;
  classes: string[];
  set: [string, string][];
}

type Box = [x: number, y: number, width: number, height: number];

/** What is handed down to what a tag holds, by the names that SVG gives it; and what is not, and must be known all the same. */
const inherited = new Set(
  'color fill fill-opacity stroke stroke-width stroke-linecap stroke-linejoin stroke-dasharray font-family font-size font-style font-weight letter-spacing text-anchor text-rendering visibility xml:space'.split(' '),
);
const own = new Set('id class transform viewBox href d points x y width height cx cy rx ry overflow version type xmlns xmlns:xlink xml:lang'.split(' '));

type Style = Record<string, string>;

const initial: Style = {
  color: 'black',
  fill: 'black',
  'fill-opacity': '1',
  stroke: 'none',
  'stroke-width': '1',
  'stroke-linecap': 'butt',
  'stroke-linejoin': 'miter',
  'stroke-dasharray': '',
  'font-family': 'serif',
  'font-size': '16px',
  'font-style': 'normal',
  'font-weight': 'normal',
  'letter-spacing': '0px',
  'text-anchor': 'start',
  'text-rendering': 'auto',
  visibility: 'visible',
  'xml:space': 'default',
};

/**
 * Reads the picture of a system for painting it where there is no page: the browser's own reading and drawing of it would keep the
 * page's main thread for tens of milliseconds. Knows the part of SVG 1.1 that the engraver writes: nested views, groups,
 * glyphs that are used, paths, lines, rectangles, ellipses, words, and style rules for tags and classes.
 *
 * @throws NotKnown when there is anything else in it.
 */
export function readPicture(svg: string): Picture {
  const root = readTags(svg);
  const named = new Map<string, Tag>();
  const rules: Rule[] = [];
  const fonts: Picture['fonts'] = [];
  const gather = (tag: Tag) => {
    for (const name of tag.attributes.keys()) if (!inherited.has(name) && !own.has(name)) throw new NotKnown(`${tag.name} ${name}`);
    const id = tag.attributes.get('id');
    if (id) named.set(id, tag);
    if (tag.name === 'style') readStyle(tag.inside.join(''), rules, fonts);
    else for (const one of tag.inside) if (typeof one !== 'string') gather(one);
  };
  gather(root);
  // A class says more than a tag, whatever comes first.
  rules.sort((a, b) => a.classes.length - b.classes.length);
  return { fonts, paint: (context, width, height) => new Painter(context, named, rules).draw(root, initial, [0, 0, width, height]) };
}

const tagOrText = /<(?:\?[^>]*\?|!--[\s\S]*?--|(\/?)([\w:-]+)((?:\s+[\w:-]+="[^"]*")*)\s*(\/?))>|([^<]+)/y;
const characters: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };
const unescaped = (text: string) =>
  text.replace(/&(#x?)?(\w+);/g, (whole, code: string | undefined, name: string) =>
    code ? String.fromCodePoint(parseInt(name, code === '#' ? 10 : 16)) : (characters[name] ?? whole));

function readTags(svg: string): Tag {
  const open: Tag[] = [{ name: '', attributes: new Map(), inside: [] }];
  tagOrText.lastIndex = 0;
  while (tagOrText.lastIndex < svg.length) {
    const found = tagOrText.exec(svg);
    if (!found) throw new NotKnown('not well-formed');
    const [, close, name, attributes, empty, text] = found;
    if (text !== undefined) open.at(-1)!.inside.push(unescaped(text));
    else if (close && open.pop()?.name !== name) throw new NotKnown(`${name} that was not opened`);
    else if (name && !close) {
      const tag: Tag = { name, attributes: new Map(), inside: [] };
      for (const [, key, value] of attributes!.matchAll(/([\w:-]+)="([^"]*)"/g)) tag.attributes.set(key!, unescaped(value!));
      open.at(-1)!.inside.push(tag);
      if (!empty) open.push(tag);
    }
  }
  const root = open[0]!.inside.find((one) => typeof one !== 'string');
  if (open.length !== 1 || root?.name !== 'svg') throw new NotKnown('not one picture');
  return root;
}

function readStyle(text: string, rules: Rule[], fonts: Picture['fonts']) {
  const rest = text
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/@font-face\s*\{([^}]*)\}/g, (_, face: string) => {
      const [family, file] = [/font-family:\s*['"]?([^;'"]+)/.exec(face), /src:\s*url\(['"]?data:[^,]*;base64,([\w+/=\s]+)/.exec(face)];
      if (!family || !file) throw new NotKnown('a font');
      fonts.push({ family: family[1]!.trim(), file: file[1]! });
      return '';
    });
  if (rest.replace(/[^{}]*\{[^{}]*\}/g, '').trim()) throw new NotKnown('a style');
  for (const [, selectors, body] of rest.matchAll(/([^{}]*)\{([^{}]*)\}/g)) {
    const set = body!.split(';').filter((one) => one.trim()).map((one) => one.split(':').map((part) => part.trim()) as [string, string]);
    for (const [name] of set) if (!inherited.has(name)) throw new NotKnown(`style ${name}`);
    for (const selector of selectors!.split(',').map((one) => one.trim())) {
      // A rule for the inside of one picture names it first.
      const simple = /^(?:#[\w-]+\s+)?([a-z]*)((?:\.[\w-]+)*)$/.exec(selector);
      if (!simple) throw new NotKnown(`style ${selector}`);
      rules.push({ tag: simple[1]!, classes: simple[2]!.split('.').filter(Boolean), set });
    }
  }
}

const numbers = (text: string) => (text.match(/-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?/g) ?? []).map(Number);

/** A length or coordinate, in units of the picture. */
function length(tag: Tag, name: string): number {
  const text = tag.attributes.get(name) ?? '0';
  if (!/^-?[\d.]+(px)?$/.test(text)) throw new NotKnown(`${tag.name} ${name} ${text}`);
  return parseFloat(text);
}

/** A colour that a canvas knows too; one that it does not know it would pass over in silence, and paint with the last. */
function colour(style: Style, name: 'fill' | 'stroke'): string {
  const is = style[name] === 'currentColor' ? style.color! : style[name]!;
  if (!/^(#[\da-f]{3,8}|[a-z]+)$/i.test(is)) throw new NotKnown(`${name} ${is}`);
  return is;
}

/** Letters in one font, from one place on or after what stands before them. */
interface Run {
  text: string;
  style: Style;
}

class Painter {
  constructor(
    private readonly context: Canvas2D,
    private readonly named: Map<string, Tag>,
    private readonly rules: Rule[],
  ) {}

  /** @param view What a view inside it fills. */
  draw(tag: Tag, above: Style, view: Box) {
    const { context } = this;
    switch (tag.name) {
      case 'defs':
      case 'desc':
      case 'title':
      case 'style':
        return;
    }
    const style = this.styled(tag, above);
    const moves = tag.attributes.get('transform');
    const isMoved = moves !== undefined || tag.name === 'svg';
    if (isMoved) context.save();
    if (moves) this.move(moves);
    switch (tag.name) {
      case 'svg':
        view = this.fit(tag, view);
      // falls through
      case 'g':
        for (const one of tag.inside) if (typeof one !== 'string') this.draw(one, style, view);
        break;
      case 'use': {
        const used = this.named.get(tag.attributes.get('href')?.slice(1) ?? '');
        if (!used) throw new NotKnown('a glyph that is not there');
        if (tag.attributes.has('x') || tag.attributes.has('y')) throw new NotKnown('use x');
        this.draw(used, style, view);
        break;
      }
      case 'text':
        this.write(tag, style);
        break;
      default:
        this.shape(tag, style);
    }
    if (isMoved) context.restore();
  }

  private styled(tag: Tag, above: Style): Style {
    const style: Style = { ...above };
    for (const [name, value] of tag.attributes) if (inherited.has(name)) style[name] = value;
    const classes = tag.attributes.get('class')?.split(/\s+/) ?? [];
    for (const rule of this.rules)
      if ((!rule.tag || rule.tag === tag.name) && rule.classes.every((one) => classes.includes(one))) for (const [name, value] of rule.set) style[name] = value;
    return style;
  }

  private fit(tag: Tag, [x, y, width, height]: Box): Box {
    const [left, top, wide, high] = numbers(tag.attributes.get('viewBox') ?? '');
    if (high === undefined || !(wide! > 0 && high > 0)) throw new NotKnown('a view without its size');
    this.context.translate(x, y);
    this.context.scale(width / wide!, height / high);
    this.context.translate(-left!, -top!);
    return [left!, top!, wide!, high];
  }

  private move(moves: string) {
    const { context } = this;
    for (const [, what, values] of moves.matchAll(/(\w+)\s*\(([^)]*)\)/g)) {
      const [a = 0, b] = numbers(values!);
      if (what === 'translate') context.translate(a, b ?? 0);
      else if (what === 'scale') context.scale(a, b ?? a);
      else if (what === 'rotate' && b === undefined) context.rotate((a * Math.PI) / 180);
      else throw new NotKnown(`transform ${what}`);
    }
  }

  private shape(tag: Tag, style: Style) {
    const path = outline(tag);
    if (style.visibility !== 'visible') return;
    const { context } = this;
    const [fill, stroke] = [colour(style, 'fill'), colour(style, 'stroke')];
    if (fill !== 'none') {
      context.fillStyle = fill;
      context.globalAlpha = Number(style['fill-opacity']);
      context.fill(path);
      context.globalAlpha = 1;
    }
    const width = parseFloat(style['stroke-width']!);
    if (stroke === 'none' || width === 0) return;
    context.strokeStyle = stroke;
    context.lineWidth = width;
    context.lineCap = style['stroke-linecap'] as CanvasLineCap;
    context.lineJoin = style['stroke-linejoin'] as CanvasLineJoin;
    context.miterLimit = 4;
    context.setLineDash(numbers(style['stroke-dasharray']!));
    context.stroke(path);
  }

  /** Words: what has a place of its own begins there and is anchored there, what has none goes on where the last ended. */
  private write(text: Tag, above: Style) {
    const chunks: { x: number; y: number; runs: Run[] }[] = [];
    let at = { x: 0, y: 0 };
    let wasSpace = true;
    const gather = (tag: Tag, style: Style) => {
      if (tag.attributes.has('x') || tag.attributes.has('y') || !chunks.length) {
        at = { x: tag.attributes.has('x') ? length(tag, 'x') : at.x, y: tag.attributes.has('y') ? length(tag, 'y') : at.y };
        // Only its y: it stays where the words before it ended, which is not done here.
        if (chunks.some((chunk) => chunk.runs.length) && !tag.attributes.has('x')) throw new NotKnown('words that go on at another height');
        chunks.push({ ...at, runs: [] });
      }
      for (const one of tag.inside) {
        if (typeof one !== 'string') {
          if (one.name !== 'tspan') throw new NotKnown(`text ${one.name}`);
          gather(one, this.styled(one, style));
          continue;
        }
        let words = one.replace(/[ \t\r\n]+/g, ' ');
        if (style['xml:space'] === 'preserve') words = one.replace(/[\t\r\n]/g, ' ');
        else if (wasSpace) words = words.replace(/^ /, '');
        if (!words) continue;
        wasSpace = words.endsWith(' ') && style['xml:space'] !== 'preserve';
        chunks.at(-1)!.runs.push({ text: words, style });
      }
    };
    gather(text, above);
    for (const chunk of chunks) this.writeChunk(chunk);
  }

  private writeChunk({ x, y, runs }: { x: number; y: number; runs: Run[] }) {
    const { context } = this;
    const shown = runs.filter(({ style }) => parseFloat(style['font-size']!) > 0);
    const last = shown.at(-1);
    if (last && last.style['xml:space'] !== 'preserve') last.text = last.text.replace(/ $/, '');
    const anchor = shown[0]?.style['text-anchor'];
    const widths = shown.map(({ text, style }) => {
      this.font(style);
      return context.measureText(text).width;
    });
    const whole = widths.reduce((sum, one) => sum + one, 0);
    let left = anchor === 'end' ? x - whole : anchor === 'middle' ? x - whole / 2 : x;
    shown.forEach(({ text, style }, i) => {
      if (style.visibility === 'visible' && style.fill !== 'none') {
        this.font(style);
        context.fillStyle = colour(style, 'fill');
        context.globalAlpha = Number(style['fill-opacity']);
        context.fillText(text, left, y);
        context.globalAlpha = 1;
      }
      left += widths[i]!;
    });
  }

  private font(style: Style) {
    if (!/^[\d.]+px$/.test(style['font-size']!)) throw new NotKnown(`font-size ${style['font-size']}`);
    this.context.font = `${style['font-style']} ${style['font-weight']} ${style['font-size']} ${style['font-family']}`;
    this.context.letterSpacing = style['letter-spacing']!;
    this.context.textRendering = style['text-rendering'] as CanvasTextRendering;
  }
}

/** Glyphs come in every system; none is read twice. */
const outlines = new Map<string, Path2D>();
/** How many outlines are kept, and from how many characters on reading them anew would take long. */
const [mostOutlines, longOutline] = [1000, 60];

function outline(tag: Tag): Path2D {
  const at = (name: string) => length(tag, name);
  const path = new Path2D();
  switch (tag.name) {
    case 'path': {
      const d = tag.attributes.get('d') ?? '';
      const known = outlines.get(d);
      if (known) return known;
      const read = new Path2D(d);
      if (d.length > longOutline) {
        if (outlines.size >= mostOutlines) outlines.clear();
        outlines.set(d, read);
      }
      return read;
    }
    case 'rect':
      if (tag.attributes.has('rx') || tag.attributes.has('ry')) throw new NotKnown('a rectangle with round corners');
      path.rect(at('x'), at('y'), at('width'), at('height'));
      return path;
    case 'ellipse':
      path.ellipse(at('cx'), at('cy'), at('rx'), at('ry'), 0, 0, 2 * Math.PI);
      return path;
    case 'polygon':
    case 'polyline': {
      const points = numbers(tag.attributes.get('points') ?? '');
      for (let i = 0; i + 1 < points.length; i += 2) path.lineTo(points[i]!, points[i + 1]!);
      if (tag.name === 'polygon') path.closePath();
      return path;
    }
    default:
      throw new NotKnown(tag.name);
  }
}
