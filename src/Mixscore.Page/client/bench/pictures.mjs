// node bench/pictures.mjs FOLDER: the pictures of examples/pictures, from the demo laid out in FOLDER.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { performed, picturesFolder, rehearsed } from './rehearsed.mjs';

const sizes = { wide: [1280, 800], upright: [820, 1180] };
mkdirSync(picturesFolder, { recursive: true });

/** Every size and theme of a page, one after the other. */
async function inEach(browser, look) {
  for (const theme of ['dark', 'light'])
    for (const [size, [width, height]] of Object.entries(sizes)) {
      const page = await (await browser.newContext({ viewport: { width, height }, colorScheme: theme })).newPage();
      const take = (view) => page.screenshot({ path: join(picturesFolder, `${view}-${size}-${theme}.png`) });
      const laid = () => page.waitForFunction(() => document.documentElement.dataset.laid, null, { timeout: 120_000 });
      // The page before may have gone without a word, and then keeps the hand for a while.
      const hand = async () => {
        await page.waitForFunction(() => document.querySelector('.page:not(.lost)'));
        await page.waitForTimeout(500);
        if (await page.locator('.page.watching').count()) await page.click('text=Take it');
      };
      const goTo = async (position) => {
        await page.fill('#go-to', position);
        await page.press('#go-to', 'Enter');
      };
      // A key that is pressed while another dialog still closes is not heard.
      const dialog = async (key) => {
        await page.waitForFunction(() => !document.querySelector('dialog'));
        await page.keyboard.press(key);
        await page.waitForSelector('dialog[open]');
        await page.waitForTimeout(400);
      };
      await look(page, { take, laid, hand, goTo, dialog });
      await page.context().close();
    }
}

await rehearsed(process.argv[2], (address, browser) =>
  inEach(browser, async (page, { take, laid, hand, goTo }) => {
    await page.goto(address);
    await laid();
    await hand();
    await goTo('33');
    await page.click('.tools .main');
    await page.waitForTimeout(1500);
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
    await page.click('.tools .main');
    await page.evaluate(() => delete document.documentElement.dataset.laid);
    await page.keyboard.press('v');
    await laid();
    await goTo('53');
    await page.keyboard.press('e');
    await page.waitForTimeout(1500);
    await page.keyboard.press('d');
    await page.waitForTimeout(600);
    await take('edit');
    await page.keyboard.press('e');
    await goTo('33');
    await page.waitForTimeout(1200);
    await page.keyboard.press('L');
    await page.click('text=What the plan could learn');
    await page.waitForSelector('.suggests [aria-label^=Accept]');
    await page.waitForTimeout(600);
    await take('learn');
    await page.goto(address + 'call');
    await page.waitForTimeout(1200);
    await take('call');
  }),
);

await performed(process.argv[2], (address, browser) =>
  inEach(browser, async (page, { take, laid, hand, goTo, dialog }) => {
    await page.goto(address);
    await laid();
    await hand();
    await dialog('A');
    await take('arm');
    await page.keyboard.press('A');
    await goTo('33');
    await page.waitForTimeout(9000);
    await page.locator('.strip[data-source="south.cello"] [role=slider]').focus();
    for (let i = 0; i < 5; i++) await page.keyboard.press('Shift+ArrowDown');
    await page.click('button[aria-label="Link of north is gone"]');
    await page.waitForTimeout(4000);
    await page.evaluate(() => document.activeElement.blur());
    await take('perform');
    await dialog('n');
    await take('note');
    await page.keyboard.press('Escape');
    await dialog('m');
    await take('midi');
    await page.keyboard.press('Escape');
    await page.click('button[aria-label="Link of north is there"]');
    await page.keyboard.press('a');
    await page.waitForTimeout(4500);
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press('X');
    await page.keyboard.press('L');
    await page.waitForTimeout(1500);
    await take('log');
    await page.keyboard.press('A');
    await page.keyboard.press('A');
    await page.waitForTimeout(300);
  }),
);
