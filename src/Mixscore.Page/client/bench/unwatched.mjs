// A browser that nothing is attached to while a page loads: what watches a page takes time from it. It is asked afterwards.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { browserPath, quiet } from './rehearsed.mjs';

/** The browser's own wire (DevTools protocol): JSON over a pipe, each message ended by a zero byte. */
class Wire {
  #asked = new Map();
  #heard = new Map();
  #last = 0;
  #text = '';

  constructor(child) {
    this.child = child;
    child.stdio[4].setEncoding('utf8').on('data', (text) => {
      const messages = (this.#text + text).split('\0');
      this.#text = messages.pop();
      for (const message of messages.map((one) => JSON.parse(one))) {
        if (message.id) this.#asked.get(message.id)?.(message);
        else this.#heard.get(message.method)?.(message.params);
        this.#asked.delete(message.id);
      }
    });
  }

  ask(method, params = {}, sessionId = undefined) {
    const id = ++this.#last;
    return new Promise((resolve, reject) => {
      this.#asked.set(id, ({ result, error }) => (error ? reject(new Error(`${method}: ${error.message}`)) : resolve(result)));
      this.child.stdio[3].write(`${JSON.stringify({ id, method, params, sessionId })}\0`);
    });
  }

  hear = (method) => new Promise((resolve) => this.#heard.set(method, resolve));
}

const wait = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

/** How long a browser that was just started is left alone, and a page until it is asked, in milliseconds. */
const [settled, loaded] = [5000, 7000];

/** A browser that keeps nothing yet, with a window of 1280×800. */
export async function unwatched(use) {
  const profile = mkdtempSync(join(tmpdir(), 'mixscore-browser-'));
  const child = spawn(
    browserPath,
    ['--headless=new', '--remote-debugging-pipe', `--user-data-dir=${profile}`, '--window-size=1280,800', ...quiet, 'about:blank'],
    { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] },
  );
  const gone = once(child, 'exit');
  const wire = new Wire(child);
  try {
    await wait(settled);
    await use(wire);
  } finally {
    await wire.ask('Browser.close').catch(() => child.kill());
    await gone;
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
}

const question = `new Promise((resolve) => {
  const seen = performance.getEntriesByName('first system')[0]?.startTime;
  const answer = (tasks) => resolve({ seen, longest: Math.max(0, ...tasks.map((one) => Math.min(one.duration, seen - one.startTime))) });
  new PerformanceObserver((list) => answer(list.getEntries())).observe({ type: 'longtask', buffered: true });
  setTimeout(answer, 300, []);
})`;

/** Opens an address in a tab, and tells when its first system was there and how long the longest task before it was (of one that goes on after it, what was before), by the clock; 0 where none was 50 ms. */
export async function opened(wire, address) {
  const { targetId } = await wire.ask('Target.createTarget', { url: address });
  await wait(loaded);
  const { sessionId } = await wire.ask('Target.attachToTarget', { targetId, flatten: true });
  const { result } = await wire.ask('Runtime.evaluate', { expression: question, awaitPromise: true, returnByValue: true }, sessionId);
  await wire.ask('Target.closeTarget', { targetId });
  await wait(1000);
  if (result.value?.seen === undefined) throw new Error(`no system after ${loaded / 1000} s`);
  return result.value;
}

/** What the browser did meanwhile, as trace events. */
export async function traced(wire, categories, meanwhile) {
  await wire.ask('Tracing.start', { transferMode: 'ReturnAsStream', traceConfig: { includedCategories: categories } });
  await meanwhile();
  const complete = wire.hear('Tracing.tracingComplete');
  await wire.ask('Tracing.end');
  const { stream } = await complete;
  let text = '';
  for (let part = { eof: false }; !part.eof; ) {
    part = await wire.ask('IO.read', { handle: stream, size: 1 << 20 });
    text += part.base64Encoded ? Buffer.from(part.data, 'base64').toString() : part.data;
  }
  return JSON.parse(text).traceEvents;
}
