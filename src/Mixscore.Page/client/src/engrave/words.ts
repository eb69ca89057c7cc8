/** A font as wide as Times, by which the engraver measures its words: so that each is as long as the place that was left for it. */
const files = import.meta.glob<string>('/node_modules/@fontsource/tinos/files/tinos-{latin,latin-ext,cyrillic,greek}-{400,700}-{normal,italic}.woff2', {
  query: '?url',
  import: 'default',
  eager: true,
});

/** What shows that a script is written. */
const scripts: Record<string, RegExp> = {
  latin: /[a-z0-9]/i,
  'latin-ext': /[\u0100-\u024f\u1e00-\u1eff]/,
  cyrillic: /[\u0400-\u045f\u0490\u0491\u2116]/,
  greek: /[\u0370-\u03ff]/,
};

const asked = new Map<string, Promise<boolean>>();

/** Loads what a picture's words are written in, once each, into the fonts of this thread. Returns the families that are there, for {@link inked}. */
export async function wordsOf(svg: string): Promise<string[]> {
  const styles = ['normal', ...(/font-style[=:]\s*"?italic/.test(svg) ? ['italic'] : [])];
  const weights = ['400', ...(/font-weight[=:]\s*"?bold/.test(svg) ? ['700'] : [])];
  const written = Object.keys(scripts).filter((script) => scripts[script]!.test(svg));
  const there = await Promise.all(
    written.map(async (script) => {
      const faces = weights.flatMap((weight) => styles.map((style) => face(script, weight, style)));
      return (await Promise.all(faces)).every(Boolean);
    }),
  );
  return written.filter((_, i) => there[i]).map(family);
}

const family = (script: string) => `Words ${script}`;

function face(script: string, weight: string, style: string): Promise<boolean> {
  const file = files[`/node_modules/@fontsource/tinos/files/tinos-${script}-${weight}-${style}.woff2`]!;
  if (!asked.has(file)) asked.set(file, load(file, script, weight, style));
  return asked.get(file)!;
}

/** False where it cannot be had: words are written in a font of the machine then. */
async function load(file: string, script: string, weight: string, style: string): Promise<boolean> {
  try {
    const face = await new FontFace(family(script), `url(${file})`, { weight, style }).load();
    (self as unknown as FontFaceSource).fonts.add(face);
    return true;
  } catch (e) {
    console.warn(`Words are written in another font: ${e instanceof Error ? e.message : String(e)}`);
    return false;
  }
}
