import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';
import { layEngraver } from './build/engraver';

/** The engraver stays files of its own beside the page, so that who wants to can put another build of it in their place. */
const engraverBeside: Plugin = { name: 'engraver-beside', closeBundle: () => layEngraver('node_modules/verovio/dist', 'dist/verovio') };

export default defineConfig({
  plugins: [svelte(), engraverBeside],
  worker: { format: 'es' },
  build: { target: 'es2022', modulePreload: { polyfill: false }, assetsInlineLimit: 0, reportCompressedSize: false },
});
