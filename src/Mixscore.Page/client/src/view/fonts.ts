/** The faces that a page is first laid out with, as the style sheet names them. */
export const faces = ['14px Figures', 'italic 14px Words'];

/** For how long the page waits for its fonts, in milliseconds; without them it is laid out in those of the machine. */
const longest = 1500;

/**
 * Fetches the fonts of the page. They are its own, and there before it is laid out: for each size of a font of the machine a browser
 * asks another process and waits, up to 40 ms of a task where two cores are busy.
 */
export function fontsLoaded(): Promise<unknown> {
  const all = Promise.allSettled(faces.map((face) => document.fonts.load(face)));
  return Promise.race([all, new Promise((resolve) => setTimeout(resolve, longest))]);
}
