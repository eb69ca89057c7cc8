/** The faces that a page is first laid out with, as the style sheet names them. */
export const faces = {
  words: ['italic'],
  figures: ['400', '600', '700'],
};

export const families = {
  words: "'Iowan Old Style', 'Palatino Linotype', serif",
  figures: "Inter, 'Helvetica Neue', Arial, sans-serif",
};

/**
 * Asks for the fonts of the page, each in a task of its own, while what it is made of is still on its way: a browser that asks its
 * system for a font waits for it, and a page that was laid out with all of them at once would be a long task.
 */
export function askForFonts(): void {
  const context = typeof OffscreenCanvas === 'undefined' ? null : new OffscreenCanvas(1, 1).getContext('2d');
  const rest = (['figures', 'words'] as const).flatMap((kind) => faces[kind].map((face) => `${face} 14px ${families[kind]}`));
  const next = () => {
    const face = rest.shift();
    if (!face || !context) return;
    context.font = face;
    context.measureText('1a');
    setTimeout(next);
  };
  setTimeout(next);
}
