import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { unpack } from './engraver';

const published = readFileSync('node_modules/verovio/dist/verovio-module.mjs', 'utf8');

// WebAssembly Core Specification 2.0, 5.5.16: a module begins with its magic number and its version.
test('the WebAssembly is taken out of the engraver, and nothing else', () => {
  const { module, wasm } = unpack(published);
  expect([...wasm.slice(0, 8)]).toEqual([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0]);
  expect(module.length).toBeLessThan(published.length / 50);
  expect(module.slice(0, 2000)).toBe(published.slice(0, 2000));
  expect(module.slice(-2000)).toBe(published.slice(-2000));
});

// The module's own way to unpack it, run as it stands.
test('it is byte for byte what the engraver itself would unpack', () => {
  const decode = /function binaryDecode\(bin\)\{.*?return o\}/.exec(published)![0];
  const literal = /binaryDecode\(('(?:[^'\\]|\\[^])*')\)/.exec(published)![1]!;
  const own = new Function(`${decode}; return binaryDecode(${literal})`)() as Uint8Array;
  expect(Buffer.from(unpack(published).wasm).equals(Buffer.from(own))).toBe(true);
});

test('an engraver that is packed in another way is refused, and not laid in halves', () => {
  expect(() => unpack('async function create() {}')).toThrow('another way');
  expect(() => unpack("function findWasmBinary(){return binaryDecode('abc')}instantiateAsync(wasmBinary,wasmBinaryFile,info)")).toThrow('no WebAssembly');
});
