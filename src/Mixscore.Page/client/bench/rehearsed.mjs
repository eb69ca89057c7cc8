// A project rehearsed or performed by the program itself, and Debian's chromium to look at it.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const root = join(dirname(fileURLToPath(import.meta.url)), '../../../..');
export const program = ['Release', 'Debug'].map((kind) => join(root, `src/Mixscore/bin/${kind}/net10.0/mixscore.dll`)).find(existsSync);
export const picturesFolder = join(root, 'examples/pictures');

/** Debian's browser, and what keeps it to itself. */
export const browserPath = '/usr/bin/chromium';
export const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];

/** Starts a verb that serves the page, hands its address and a browser to `use`, and ends both. */
async function served(verb, use) {
  const server = spawn('dotnet', [program, ...verb, '--no-open'], { stdio: ['pipe', 'pipe', 'inherit'] });
  const address = await new Promise((resolve, reject) => {
    server.stdout.on('data', (text) => {
      const found = /page: (\S+)/.exec(text);
      if (found) resolve(found[1]);
    });
    server.on('exit', () => reject(new Error(`${verb[0]} ended`)));
  });
  const browser = await chromium.launch({
    executablePath: browserPath,
    args: quiet,
  });
  try {
    await use(address, browser);
  } finally {
    await browser.close();
    server.kill('SIGTERM');
  }
}

/** Rehearses a project folder. */
export const rehearsed = (folder, use) => served(['rehearse', folder], use);

/** Performs a project folder on a practice desk. */
export async function performed(folder, use) {
  const map = join(folder, 'hall-osc.desk.yaml');
  const desk = spawn('dotnet', [program, 'practice-desk', '--map', map], { stdio: ['pipe', 'ignore', 'inherit'] });
  try {
    await served(['perform', folder, '--desk', map], use);
  } finally {
    desk.kill('SIGTERM');
  }
}
