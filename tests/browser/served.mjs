// A room imported from sheets and served by the program itself, and a browser on it.

import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const target = process.env.CARGO_TARGET_DIR ?? join(root, 'target');
export const program = process.env.CLUTCHWRIGHT ?? join(target, 'debug', 'clutchwright');

async function freePort() {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address();
  server.close();
  await once(server, 'close');
  return port;
}

async function answers(address) {
  for (let n = 0; n < 200; n += 1) {
    try {
      if ((await fetch(address)).ok) return;
    } catch {
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  }
  throw new Error(`${address} does not answer`);
}

/** Waits until what forecasts of that evening rest on has been worked out beside the pages: two pages
 * in a row say nothing of work, for the work of another evening may end while the first is made. */
async function settled(address, evening) {
  const on = evening ? `?on=${evening}` : '';
  for (let n = 0, quiet = 0; n < 600; n += 1) {
    const page = await (await fetch(`${address}/learned${on}`)).text();
    quiet = page.includes(' working"') ? 0 : quiet + 1;
    if (quiet === 2) return;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  throw new Error(`forecasts of ${evening} are not worked out`);
}

/** Presses a link or button that leads to a page, and waits until that page is whole: a press by itself
 * waits only for its first bytes, and what counts rows then counts some of them. */
export async function pressed(locator) {
  await Promise.all([locator.page().waitForEvent('load'), locator.click()]);
}

/** The same with Enter, on what has the focus. */
export async function entered(page) {
  await Promise.all([page.waitForEvent('load'), page.keyboard.press('Enter')]);
}

/** Imports sheets, those of tests/room if no others are named, into a new folder and serves it. */
export async function served(sheets = join(root, 'tests', 'room')) {
  const dir = mkdtempSync(join(tmpdir(), 'clutchwright-browser-'));
  const data = join(dir, 'room');
  execFileSync(program, [
    'import', sheets, '--data', data, '--zone', 'Europe/Berlin', '--yes',
  ], { stdio: ['ignore', 'ignore', 'inherit'] });
  return running(dir, data, ['serve', '--data', data]);
}

/** The made-up room, in a folder of its own. */
export async function demo() {
  const dir = mkdtempSync(join(tmpdir(), 'clutchwright-browser-'));
  const data = join(dir, 'demo');
  return running(dir, data, ['demo', '--data', data]);
}

/** The program with these arguments, and a browser on it. */
async function running(dir, data, args) {
  const port = await freePort();
  const server = spawn(program, [...args, '--port', String(port)], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const address = `http://127.0.0.1:${port}`;
  await answers(address);
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  });
  return {
    address,
    data,
    browser,
    settled: (evening) => settled(address, evening),
    /** A new page; what it complains about in its console is collected in `complaints`. */
    async page({ width = 360, height = 740, theme = 'light' } = {}) {
      const context = await browser.newContext({ viewport: { width, height } });
      await context.addCookies([{ name: 'theme', value: theme, url: address }]);
      const page = await context.newPage();
      page.complaints = [];
      page.on('console', (m) => m.type() === 'error' && page.complaints.push(m.text()));
      page.on('pageerror', (e) => page.complaints.push(String(e)));
      return page;
    },
    async stop() {
      await browser.close();
      const gone = once(server, 'exit');
      server.kill();
      await gone;
      rmSync(dir, { recursive: true, force: true });
    },
  };
}
