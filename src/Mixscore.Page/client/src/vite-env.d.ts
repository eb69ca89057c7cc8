/// <reference types="vite/types/importMeta.d.ts" />

declare module '*?worker&url' {
  const url: string;
  export default url;
}
declare module '*.svelte' {
  import type { Component } from 'svelte';
  const component: Component<Record<string, unknown>>;
  export default component;
}
declare module '*.css';

declare module '*?raw' {
  const text: string;
  export default text;
}

declare module 'verovio/wasm' {
  const create: () => Promise<object>;
  export default create;
}

declare module 'verovio/esm' {
  export class VerovioToolkit {
    constructor(module: object);
    setOptions(options: object): void;
    loadData(data: string): boolean | number;
    renderToSVG(page: number): string;
  }
}
