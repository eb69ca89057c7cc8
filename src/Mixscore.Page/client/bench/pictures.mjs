// node bench/pictures.mjs FOLDER: the pictures of examples/pictures, from the demo laid out in FOLDER.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { picturesFolder, rehearsed } from './rehearsed.mjs';

const sizes = { wide: [1280, 800], upright: [820, 1180] };
mkdirSync(picturesFolder, { recursive: true });

await rehearsed(process.argv[2], async (address, browser) => {
  for (const theme of ['dark', 'light'])
    for (const [size, [width, height]] of Object.entries(sizes)) {
      const page = await (await browser.newContext({ viewport: { width, height }, colorScheme: theme })).newPage();
      const take = (view) => page.screenshot({ path: join(picturesFolder, `${view}-${size}-${theme}.png`) });
      const laid = () => page.waitForFunction(() => document.documentElement.dataset.laid, null, { timeout: 120_000 });
      const goTo = async (position) => {
        await page.fill('#go-to', position);
        await page.press('#go-to', 'Enter');
      };
      await page.goto(address);
      await laid();
      await goTo('33');
      await page.click('.tools .main');
      await page.locator('.strip[data-source="south.cello"] [role=slider]').focus();
      for (let i = 0; i < 4; i++) await page.keyboard.press('Shift+ArrowDown');
      await page.waitForTimeout(9000);
      await page.evaluate(() => document.activeElement.blur());
      await take('score');
      await page.keyboard.press('a');
      await page.keyboard.press('?');
      await page.waitForTimeout(400);
      await take('keys');
      await page.keyboard.press('Escape');
      await page.waitForTimeout(400);
      await page.evaluate(() => delete document.documentElement.dataset.laid);
      await page.keyboard.press('v');
      await laid();
      await page.waitForTimeout(2500);
      await take('strip');
      await page.goto(address + 'call');
      await page.waitForTimeout(1200);
      await take('call');
      await page.goto(address);
      await page.waitForSelector('.tools .main[aria-pressed=true]');
      await page.click('.tools .main');
      await page.context().close();
    }
});
