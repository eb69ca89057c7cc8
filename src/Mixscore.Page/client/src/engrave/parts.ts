/** MusicXML with some of its parts left out; the engraver has no switch to hide them. */
export function withoutParts(xml: string, hidden: readonly string[]): string {
  let text = xml;
  for (const id of hidden) {
    const escaped = id.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
    text = text.replace(new RegExp(`<score-part\\s[^>]*id="${escaped}"[\\s\\S]*?</score-part>`), '');
    text = cutPart(text, new RegExp(`<part\\s[^>]*id="${escaped}"[^>]*>`));
  }
  return text;
}

function cutPart(text: string, opening: RegExp): string {
  const found = opening.exec(text);
  const end = found ? text.indexOf('</part>', found.index) : -1;
  return found && end >= 0 ? text.slice(0, found.index) + text.slice(end + '</part>'.length) : text;
}

/** The first bars of every part: enough for the first system, which is then seen before the whole is read. */
export function firstBars(xml: string, count: number): string {
  return xml
    .split(/(?=<part\s)/)
    .map((part, index) => {
      if (index === 0) return part;
      let end = 0;
      for (let i = 0; i < count; i++) {
        const close = part.indexOf('</measure>', end);
        if (close < 0) return part;
        end = close + '</measure>'.length;
      }
      const close = part.lastIndexOf('</part>');
      return close < end ? part : part.slice(0, end) + part.slice(close);
    })
    .join('');
}

const withoutMeter = /<time\b[^>]*>\s*<senza-misura\b[^>]*(?:\/>|>[^<]*<\/senza-misura>)\s*<\/time>/g;

/** A score that is written bar by bar, written part by part; any other as it is. */
function partwise(xml: string): string {
  const first = xml.search(/<measure(?=[\s>])/);
  if (first < 0 || !/<score-timewise\b/.test(xml.slice(0, first))) return xml;
  const parts = new Map<string, string>();
  for (const [, opening, inside] of xml.matchAll(/(<measure(?=[\s>])[^>]*>)([\s\S]*?)<\/measure>/g))
    for (const [, id, bar] of inside!.matchAll(/<part\s[^>]*?\bid="([^"]*)"[^>]*?(?:\/>|>([\s\S]*?)<\/part>)/g)) parts.set(id!, `${parts.get(id!) ?? ''}${opening}${bar ?? ''}</measure>`);
  const head = xml.slice(0, first).replaceAll('score-timewise', 'score-partwise');
  return `${head}${[...parts].map(([id, bars]) => `<part id="${id}">${bars}</part>`).join('')}</score-partwise>`;
}

/**
 * The score as the engraver can read it: it draws nothing of one that is written bar by bar; and it breaks off at bars that are said to
 * have no meter, and draws them well where nothing is said.
 */
export const legible = (xml: string): string => partwise(xml).replace(withoutMeter, '');
