// node bench/eyes.mjs FOLDER: how far apart two browsers show one hand's moves.
import { loadavg } from 'node:os';
import { rehearsed } from './rehearsed.mjs';

const moves = 60;

await rehearsed(process.argv[2], async (address, browser) => {
  const open = async () => {
    const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
    await page.goto(address);
    await page.waitForFunction(() => document.querySelector('.page:not(.lost) .strip .gain') && document.documentElement.dataset.laid, null, { timeout: 120_000 });
    await page.evaluate(() => {
      window.shown = new Map();
      const gain = document.querySelector('.strip .gain');
      new MutationObserver(() => window.shown.set(gain.textContent, performance.timeOrigin + performance.now())).observe(gain, { childList: true, characterData: true, subtree: true });
    });
    return page;
  };
  const [first, second] = [await open(), await open()];
  await first.locator('[role=slider]').first().focus();
  for (let i = 0; i < moves; i++) {
    await first.keyboard.press('Shift+ArrowUp');
    await first.waitForTimeout(100);
  }
  const shown = () => [...window.shown];
  const [here, there] = [new Map(await first.evaluate(shown)), new Map(await second.evaluate(shown))];
  const apart = [...here].filter(([text]) => there.has(text)).map(([text, at]) => Math.abs(at - there.get(text))).sort((a, b) => a - b);
  console.log(`${apart.length} of ${moves} moves seen in both, load ${loadavg()[0].toFixed(1)}`);
  console.log(`apart: ${apart[apart.length >> 1].toFixed(0)} ms median, ${apart.at(-1).toFixed(0)} ms at most`);
});
