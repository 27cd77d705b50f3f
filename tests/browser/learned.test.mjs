// What the records say, and how earlier forecasts held, of an imported room.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { served } from './served.mjs';

const evening = 'on=2026-02-10';
let room;

before(async () => {
  room = await served();
});
after(async () => {
  await room?.stop();
});

/** Opens the page; the track record is worked out beside it. */
async function opened(path, size) {
  const page = await room.page(size);
  for (let n = 0; n < 60; n += 1) {
    await page.goto(`${room.address}${path}?${evening}`);
    if (!(await page.getByRole('link', { name: 'Look again' }).count())) return page;
    await page.waitForTimeout(1000);
  }
  throw new Error(`${path} is still being worked out`);
}

test('every answer has a sentence, a picture with its numbers in words, and its counts', async () => {
  const page = await opened('/learned');
  const answers = page.locator('section.learned');
  assert.ok((await answers.count()) >= 7, 'the room has enough for most questions');
  for (const answer of await answers.all()) {
    const asked = await answer.locator('h2').innerText();
    const picture = answer.locator('svg.narrow');
    assert.equal(await picture.getAttribute('role'), 'img');
    assert.equal(await picture.getAttribute('aria-label'), asked);
    assert.match(await picture.locator('desc').textContent(), /\d/, asked);
    assert.match(await answer.innerText(), /Behind it: \d+ /, asked);
  }
  const curve = page.locator('#wait_ovulation');
  assert.match(await curve.innerText(), /half of the cycles had come to ovulation \d+ days after/);
  assert.match(
    await curve.locator('svg.narrow desc').textContent(),
    /by 100 \d+ % \(\d+ % to \d+ %\), \d+ waiting still/,
  );
  assert.match(await page.locator('main').ariaSnapshot(), /img "How long from the first placement/);
  assert.deepEqual(page.complaints, []);
});

test('the track record tells each kind in a sentence, two pictures and a table', async () => {
  const page = await opened('/track');
  for (const name of ['How often the truth fell into the interval', 'How many days forecasts were off']) {
    const picture = page.getByRole('img', { name }).first();
    assert.match(await picture.locator('desc').textContent(), /passing 12 mm: .*laying: /s);
  }
  for (const kind of ['The next scan', 'Passing 40 mm', 'Ovulation', 'Laying', 'Hatch']) {
    assert.equal(await page.getByText(kind, { exact: true }).count(), 1, kind);
  }
  await page.locator('main details').first().locator('summary').click();
  const rows = page.locator('table.figures').first().locator('tbody tr');
  assert.ok((await rows.count()) >= 3);
  assert.deepEqual(page.complaints, []);
});

test('nothing is wider than a small phone, and no words of a picture lie on others or outside', async () => {
  for (const path of ['/learned', '/track']) {
    for (const [width, theme] of [[320, 'night'], [360, 'light'], [1280, 'dark']]) {
      const page = await opened(path, { width, theme });
      const all = page.locator('details');
      await all.evaluateAll((found) => found.forEach((one) => { one.open = true; }));
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(wide <= width, `${path} at ${width}: ${wide} px`);
      const bad = await page.locator('main svg').evaluateAll((pictures) => {
        const found = [];
        for (const picture of pictures) {
          const { width: right, height: floor } = picture.viewBox.baseVal;
          if (picture.getBoundingClientRect().width === 0) continue;
          const boxes = [...picture.querySelectorAll('text')].map((t) => ({ words: t.textContent, ...box(t) }));
          for (const [n, a] of boxes.entries()) {
            if (a.left < -1 || a.right > right + 1 || a.bottom > floor + 1) found.push(`outside: ${a.words}`);
            for (const b of boxes.slice(n + 1)) {
              const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
              const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
              if (across > 1 && down > 3) found.push(`${a.words} on ${b.words}`);
            }
          }
        }
        return found;
        function box(text) {
          const { x, y, width: w, height: h } = text.getBBox();
          return { left: x, right: x + w, top: y, bottom: y + h };
        }
      });
      assert.deepEqual(bad, [], `${path} at ${width}`);
      await page.context().close();
    }
  }
});

test('the keyboard reaches and opens whatever can be pressed', async () => {
  for (const path of ['/learned', '/track']) {
    const page = await opened(path);
    const first = page.locator('main details summary').first();
    await first.focus();
    await page.keyboard.press('Enter');
    assert.equal(await page.locator('main details').first().evaluate((one) => one.open), true);
    await page.reload();
    const all = page.locator('details');
    await all.evaluateAll((found) => found.forEach((one) => { one.open = true; }));
    const wanted = await page.locator('main').locator('a[href], summary, [tabindex="0"]').count();
    const reached = new Set();
    for (let n = 0; n < wanted + 12; n += 1) {
      await page.keyboard.press('Tab');
      const at = await page.evaluate(() => {
        const every = [...document.querySelectorAll('main a[href], main summary, main [tabindex="0"]')];
        return every.indexOf(document.activeElement);
      });
      if (at >= 0) reached.add(at);
    }
    assert.equal(reached.size, wanted, path);
  }
  const page = await opened('/track', { width: 320 });
  await page.locator('main details').first().locator('summary').click();
  const table = page.locator('table.by-days').first();
  assert.match(await table.innerText(), /50\s%: \d+\s%\s+95\s%: \d+\s%/, 'nothing is left out');
  const right = await table.evaluate((element) => element.getBoundingClientRect().right);
  assert.ok(right <= 320, `the table ends at ${right} px`);
});
