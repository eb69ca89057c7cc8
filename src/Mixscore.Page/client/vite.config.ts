import { copyFileSync, mkdirSync } from 'node:fs';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';

/** The engraver stays a file of its own beside the page, so that who wants to can put another build of it in its place. */
const engraverBeside: Plugin = {
  name: 'engraver-beside',
  closeBundle() {
    mkdirSync('dist/verovio', { recursive: true });
    for (const file of ['verovio.mjs', 'verovio-module.mjs']) copyFileSync(`node_modules/verovio/dist/${file}`, `dist/verovio/${file}`);
  },
};

export default defineConfig({
  plugins: [svelte(), engraverBeside],
  worker: { format: 'es' },
  build: { target: 'es2022', modulePreload: { polyfill: false }, assetsInlineLimit: 0, reportCompressedSize: false },
});
