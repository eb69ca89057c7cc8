import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { runInNewContext } from 'node:vm';

const packed = /function findWasmBinary\(\)\{return binaryDecode\(('(?:[^'\\]|\\[^])*')\)\}/;
const unpacked = 'instantiateAsync(wasmBinary,wasmBinaryFile,info)';

/**
 * Lays the engraver beside the page. Its WebAssembly comes packed in a string of seven megabytes, which a browser would read
 * twice before it compiled any of it: it is taken out into a file, which is compiled while it is read and kept compiled.
 */
export function layEngraver(from: string, to: string) {
  mkdirSync(to, { recursive: true });
  writeFileSync(`${to}/verovio.mjs`, readFileSync(`${from}/verovio.mjs`));
  const { module, wasm } = unpack(readFileSync(`${from}/verovio-module.mjs`, 'utf8'));
  writeFileSync(`${to}/verovio-module.mjs`, module);
  writeFileSync(`${to}/verovio.wasm`, wasm);
}

/** The module without the string, and what was in it. */
export function unpack(module: string): { module: string; wasm: Uint8Array } {
  const literal = packed.exec(module)?.[1];
  if (!literal || module.split(unpacked).length !== 2) throw new Error('this build of the engraver is packed in another way: see build/engraver.ts');
  // The bytes are the characters, but that 0 is written as U+0100 where it would not survive.
  const wasm = Uint8Array.from(runInNewContext(literal) as string, (one) => one.charCodeAt(0) & 0xff);
  if (!WebAssembly.validate(wasm)) throw new Error('what was taken out of the engraver is no WebAssembly: see build/engraver.ts');
  return {
    module: module.replace(packed, () => `function findWasmBinary(){return new URL('verovio.wasm',import.meta.url).href}`).replace(unpacked, 'WebAssembly.instantiateStreaming(fetch(wasmBinaryFile),info)'),
    wasm,
  };
}
