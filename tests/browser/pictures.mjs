// Pictures of pages, to look at: node tests/browser/pictures.mjs ADDRESS FOLDER [PATH ...]
//
// Each page at phone and desktop width in each theme, and as the paper sheet (A4, PNG of the print
// style). Nothing is compared: a person looks.

import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const [address, folder, ...asked] = process.argv.slice(2);
if (!address || !folder) {
  console.error('usage: node pictures.mjs ADDRESS FOLDER [PATH ...]');
  process.exit(2);
}
const paths = asked.length ? asked : ['/', '/round/evening', '/round/morning', '/season', '/animals', '/desk'];
const sizes = { phone: { width: 360, height: 740 }, desk: { width: 1280, height: 900 } };
mkdirSync(folder, { recursive: true });
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
});
const only = (process.env.THEMES ?? 'light,dark,night').split(',');
for (const theme of only) {
  for (const [size, viewport] of Object.entries(sizes)) {
    const context = await browser.newContext({ viewport });
    await context.addCookies([{ name: 'theme', value: theme, url: address }]);
    const page = await context.newPage();
    for (const path of paths) {
      const name = path.replace(/[^a-z0-9]+/gi, '-').replace(/^-|-$/g, '') || 'tonight';
      await page.goto(address + path);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      if (wide > viewport.width) console.log(`${path} at ${viewport.width}: ${wide} px wide`);
      await page.screenshot({
        path: join(folder, `${name}-${size}-${theme}.png`),
        clip: { x: 0, y: 0, width: viewport.width, height: Math.min(2400, await page.evaluate(() => document.documentElement.scrollHeight)) },
        fullPage: true,
      });
      if (theme === only[0] && size === 'desk') {
        await page.emulateMedia({ media: 'print' });
        await page.setViewportSize({ width: 794, height: 1123 });
        await page.screenshot({ path: join(folder, `${name}-paper.png`), fullPage: true });
        await page.emulateMedia({ media: null });
        await page.setViewportSize(viewport);
      }
    }
    await context.close();
  }
}
await browser.close();
