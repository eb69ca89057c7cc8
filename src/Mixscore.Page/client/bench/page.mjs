// node bench/page.mjs FOLDER [SECONDS] [--loaded]: how soon the score is there, and how the sound and the hands do.
import { spawn } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { rehearsed } from './rehearsed.mjs';
import { opened, traced, unwatched } from './unwatched.mjs';

const [folder, seconds = '60'] = process.argv.slice(2).filter((word) => !word.startsWith('--'));
const isLoaded = process.argv.includes('--loaded');
const loads = 5;
const say = (name, figure) => console.log(`${name.padEnd(46)} ${figure}`);
const median = (figures) => [...figures].sort((a, b) => a - b)[figures.length >> 1];

/** What all renderers of this browser hold, in MB: shared pages counted by their share. */
function renderers() {
  let most = 0;
  for (const pid of readdirSync('/proc').filter((name) => /^\d+$/.test(name)))
    try {
      if (!readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes('--type=renderer')) continue;
      most = Math.max(most, Number(/Pss:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8'))[1]) / 1024);
    } catch {
      // It has ended.
    }
  return most;
}

/** The longest task of the page's main thread before its first system, in milliseconds of a processor: what it would take on a machine with nothing else to do. */
function longestTask(events) {
  const mark = events.find((one) => one.name === 'first system');
  const mains = new Set(events.filter((one) => one.name === 'thread_name' && one.args.name === 'CrRendererMain').map((one) => `${one.pid}/${one.tid}`));
  const tasks = events.filter((one) => one.name === 'ThreadControllerImpl::RunTask' && one.pid === mark.pid && mains.has(`${one.pid}/${one.tid}`) && one.ts < mark.ts);
  return Math.max(0, ...tasks.map((one) => (one.tdur ?? 0) / 1000));
}

const laid = (page) => page.waitForFunction(() => document.documentElement.dataset.laid, null, { timeout: 300_000 });

const sayLoads = (name, figures) => {
  say(name, `${figures.map(({ seen }) => Math.round(seen)).join(', ')} ms; median ${Math.round(median(figures.map(({ seen }) => seen)))}`);
  say('  longest stretch of the main thread before it', `${figures.map(({ longest }) => (longest > 50 ? Math.round(longest) : 'under 50')).join(', ')} ms by the clock`);
};

await rehearsed(folder, async (address, browser) => {
  say('machine', `${cpus().length} × ${cpus()[0].model}, load ${loadavg()[0].toFixed(1)} before`);
  const [first, again] = [[], []];
  let longest = 0;
  for (let i = 0; i < loads; i++)
    await unwatched(async (wire) => {
      first.push(await opened(wire, address));
      again.push(await opened(wire, address));
    });
  await unwatched(async (wire) => {
    longest = longestTask(await traced(wire, ['toplevel', 'blink.user_timing'], () => opened(wire, address)));
  });
  sayLoads('first system with its level lines, nothing kept', first);
  sayLoads('first system with its level lines, seen before', again);
  say('longest stretch before it, nothing kept', `${Math.round(longest)} ms of a processor`);

  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  await page.goto(address);
  await laid(page);
  say('whole score laid', `${await page.evaluate(() => document.documentElement.dataset.laid)} ms, ${await page.evaluate(() => document.querySelectorAll('.system').length)} systems`);
  say('memory of the renderer', `${Math.round(renderers())} MB`);
  await page.evaluate(async () => {
    const score = document.querySelector('.score');
    for (let top = 0; top < score.scrollHeight; top += 700) {
      score.scrollTop = top;
      await new Promise((resolve) => setTimeout(resolve, 60));
    }
    score.scrollTop = 0;
  });
  say('memory after reading it from end to end', `${Math.round(renderers())} MB`);

  const load = isLoaded ? cpus().map(() => spawn(process.execPath, ['-e', 'for (;;);'])) : [];
  try {
    // The pages before it have gone, and may have left the hand to nobody yet.
    await page.waitForFunction(() => {
      const isWatching = document.querySelector('.page').classList.contains('watching');
      if (isWatching) [...document.querySelectorAll('.hand-bar button')].find((one) => one.textContent === 'Take it')?.click();
      return !isWatching;
    });
    await page.click('.tools .main');
    await page.waitForTimeout(2000);
    const fader = page.locator('[role=slider]').first();
    await fader.focus();
    const until = Date.now() + Number(seconds) * 1000;
    const before = Number((await page.locator('.sound').getAttribute('data-gaps')) ?? 0);
    for (let i = 0; Date.now() < until; i++) {
      await page.keyboard.press(i % 2 ? 'ArrowUp' : 'ArrowDown');
      await page.waitForTimeout(250);
    }
    const sound = page.locator('.sound');
    say(
      `${seconds} s of rehearsal${isLoaded ? ', all cores loaded besides' : ''}`,
      `${Number(await sound.getAttribute('data-gaps')) - before} gaps (${before} in the first 2 s), ${await sound.getAttribute('data-repeats')} bridged, ${Math.round(1000 * Number(await sound.getAttribute('data-fill')))} ms held`,
    );
    say('from a hand to hearing it, median', `${await sound.getAttribute('data-reach')} ms`);
    say('load at the end', loadavg()[0].toFixed(1));
    await page.click('.tools .main');
  } finally {
    for (const one of load) one.kill();
  }
});
