// A project rehearsed by the program itself, and Debian's chromium to look at it.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const root = join(dirname(fileURLToPath(import.meta.url)), '../../../..');
export const program = ['Release', 'Debug'].map((kind) => join(root, `src/Mixscore/bin/${kind}/net10.0/mixscore.dll`)).find(existsSync);
export const picturesFolder = join(root, 'examples/pictures');

/** Rehearses a project folder, hands its address and a browser to `use`, and ends both. */
export async function rehearsed(folder, use) {
  const server = spawn('dotnet', [program, 'rehearse', folder, '--no-open'], { stdio: ['ignore', 'pipe', 'inherit'] });
  const address = await new Promise((resolve, reject) => {
    server.stdout.on('data', (text) => {
      const found = /page: (\S+)/.exec(text);
      if (found) resolve(found[1]);
    });
    server.on('exit', () => reject(new Error('the rehearsal ended')));
  });
  const browser = await chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
  try {
    await use(address, browser);
  } finally {
    await browser.close();
    server.kill('SIGTERM');
  }
}
