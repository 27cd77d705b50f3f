// The season of the made-up room: sifted, sorted, and its strips read and measured.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { demo, entered, pressed } from './served.mjs';

let room;

before(async () => {
  room = await demo();
});
after(async () => {
  await room?.stop();
});

const names = (page) => page.locator('.female h2').allTextContents();
const chips = (page) => page.getByRole('navigation', { name: 'What is next' }).getByRole('link');

test('what is next is chosen by a press, and each choice leaves as many as it says', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/season`);
  const all = (await names(page)).length;
  const offered = await chips(page).allInnerTexts();
  assert.ok(offered.length >= 6, offered.join(', '));
  let sum = 0;
  for (const [n, text] of offered.entries()) {
    const chip = chips(page).nth(n);
    assert.ok((await chip.boundingBox()).height >= 44, 'large enough for a thumb');
    await pressed(chip);
    const count = Number(/(\d+)$/.exec(text)[1]);
    assert.equal((await names(page)).length, count, text);
    assert.equal(await page.locator('.sifts [aria-current]').count(), 1);
    if (n > 0) sum += count;
    await page.goto(`${room.address}/season`);
  }
  assert.equal(sum, all);
  assert.deepEqual(page.complaints, []);
});

test('phase, order and words are chosen with the keyboard alone, without scripts', async () => {
  const context = await room.browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(`${room.address}/season?next=22`);
  const before = await names(page);
  await page.getByLabel('Order').focus();
  await page.keyboard.type('by name');
  await page.getByLabel('Name, tub or gene').focus();
  await page.keyboard.press('Tab');
  await entered(page);
  assert.match(page.url(), /sort=name/);
  const sorted = await names(page);
  assert.deepEqual(sorted, [...before].sort());
  assert.match(page.url(), /next=22/, 'what is next stays chosen');
  await page.getByLabel('Name, tub or gene').fill('no such gene');
  await entered(page);
  assert.match(page.url(), /find=no/);
  assert.match(await page.locator('main').innerText(), /No female is all of this at once/);
  await pressed(page.getByRole('link', { name: 'Show all', exact: true }));
  assert.ok((await names(page)).length > before.length);
  await context.close();
});

test('a strip tells every date of a female under way', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/season?next=40`);
  const strip = page.locator('svg.strip.narrow').first();
  const told = await strip.locator('desc').textContent();
  for (const step of ['40 mm', 'ovulation', 'pre-lay shed', 'laying', 'hatch']) {
    assert.match(told, new RegExp(`${step} \\d+[^;]* [A-Z][a-z]{2}[^;]*, about \\d+ [A-Z]`), step);
  }
  const tree = await page.locator('main').ariaSnapshot();
  assert.match(tree, /img "Growth strip of F/);
});

test('no words of a strip lie on others, on a bar, or outside', async () => {
  for (const [width, theme] of [[320, 'night'], [360, 'light'], [1280, 'dark']]) {
    const page = await room.page({ width, theme });
    await page.goto(`${room.address}/season`);
    await page.locator('details').evaluateAll((all) => all.forEach((one) => { one.open = true; }));
    const bad = await page.locator('svg.strip').evaluateAll((all) => {
      const found = [];
      for (const svg of all.filter((one) => one.getBoundingClientRect().width)) {
        const title = svg.querySelector('title').textContent;
        const words = [...svg.querySelectorAll('text')].filter((text) => text.textContent);
        const boxes = words.map((text) => ({ box: text.getBBox(), of: text.textContent }));
        const bars = [...svg.querySelectorAll('.span')].map((bar) => ({ box: bar.getBBox(), of: 'bar' }));
        const { width: right } = svg.viewBox.baseVal;
        for (const { box, of } of boxes) {
          if (box.x < -1 || box.x + box.width > right + 1) found.push(`${title}: ${of} is outside`);
        }
        // Letters have room above and below in their box; what they fill is less.
        const meet = (a, b) => a.x < b.x + b.width && b.x < a.x + a.width
          && a.y + 3 < b.y + b.height - 3 && b.y + 3 < a.y + a.height - 3;
        for (const [n, one] of boxes.entries()) {
          for (const other of [...boxes.slice(n + 1), ...bars]) {
            if (meet(one.box, other.box)) found.push(`${title}: ${one.of} lies on ${other.of}`);
          }
        }
      }
      return found;
    });
    assert.deepEqual(bad, [], `at ${width} px`);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(over <= 0, `${over} px too wide`);
    assert.deepEqual(page.complaints, []);
  }
});
