import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';
import { layEngraver } from './build/engraver';

/** The engraver stays files of its own beside the page, so that who wants to can put another build of it in their place. */
const engraverBeside: Plugin = { name: 'engraver-beside', closeBundle: () => layEngraver('node_modules/verovio/dist', 'dist/verovio') };

/** A browser that knows this hint compiles the page while it is read, on a thread of its own, and not function by function when the page is put there. */
const compiledAtOnce: Plugin = {
  name: 'compiled-at-once',
  generateBundle(_, bundle) {
    const page = Object.values(bundle).find((file) => file.type === 'chunk' && file.name === 'page');
    if (page?.type !== 'chunk') this.error('there is no chunk of the page to be compiled at once: see src/main.ts');
    page.code = `//# allFunctionsCalledOnLoad\n${page.code}`;
  },
};

export default defineConfig({
  plugins: [svelte(), engraverBeside, compiledAtOnce],
  worker: { format: 'es' },
  build: { target: 'es2022', modulePreload: { polyfill: false }, assetsInlineLimit: 0, reportCompressedSize: false },
});
