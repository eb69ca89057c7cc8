import { splitBars } from './bars';

/** How many characters of bars a browser is given at once: reading and laying out a whole system keeps it longer than an eye forgives. */
const most = 6_000;

/**
 * Cuts the picture of a system between its bars into pictures of the same size, to be laid over each other: what a bar holds is
 * drawn wherever it reaches to, and the browser reads one after the other instead of all at once.
 */
export function layers(svg: string, charactersEach = most): string[] {
  const split = splitBars(svg);
  const opened = split && openedIn(split.head);
  if (!split || !opened) return [svg];
  const stacks: string[][] = [];
  let size = Infinity;
  for (const bar of split.bars) {
    if (size + bar.length > charactersEach) {
      stacks.push([]);
      size = 0;
    }
    stacks.at(-1)!.push(bar);
    size += bar.length;
  }
  if (stacks.length < 2) return [svg];
  const [root, ...inside] = opened;
  const shared = ['defs', 'style'].map((name) => new RegExp(`<${name}\\b[\\s\\S]*?</${name}>`).exec(split.head)?.[0] ?? '').join('');
  const bare = root! + shared + inside.join('');
  const closed = opened.map((tag) => `</${nameOf(tag)}>`).reverse().join('');
  return stacks.map((bars, i) => (i === 0 ? split.head : bare) + bars.join('') + (i === stacks.length - 1 ? split.tail : closed));
}

const nameOf = (tag: string) => /^<\/?([\w-]+)/.exec(tag)![1]!;

/** The tags that are open where a text ends, from the outermost; `null` where they do not fit. */
function openedIn(text: string): string[] | null {
  const opened: string[] = [];
  for (const [tag] of text.matchAll(/<\/?[a-zA-Z][^>]*>/g)) {
    if (tag.startsWith('</')) {
      if (!opened.length || nameOf(opened.pop()!) !== nameOf(tag)) return null;
    } else if (!tag.endsWith('/>')) opened.push(tag);
  }
  return opened.length ? opened : null;
}
