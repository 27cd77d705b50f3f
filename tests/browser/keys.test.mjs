// The keyboard: every key of the list, in a real browser, and none while something is typed.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { entered, pressed, served } from './served.mjs';

const EVENING = '2026-02-10';
let room;

before(async () => {
  room = await served();
  await room.settled(EVENING);
});
after(async () => {
  await room?.stop();
});

const focused = (page) => page.evaluate(() => document.activeElement.textContent.trim());

test('? shows the keys and Esc takes them away', async () => {
  const page = await room.page({ width: 1200, height: 800 });
  await page.goto(`${room.address}/season?on=${EVENING}`);
  const list = page.getByRole('dialog');
  assert.equal(await list.isVisible(), false);
  await page.keyboard.press('?');
  assert.ok(await list.isVisible());
  await page.keyboard.press('g');
  await page.keyboard.press('t');
  assert.match(page.url(), /season/, 'behind the list nothing happens');
  await page.keyboard.press('Escape');
  assert.equal(await list.isVisible(), false);
  await page.keyboard.press('?');
  await page.getByRole('button', { name: 'Close' }).click();
  assert.equal(await list.isVisible(), false);
  assert.deepEqual(page.complaints, []);
});

test('g and a letter go to each page, and stay on the evening asked about', async () => {
  const page = await room.page({ width: 1200 });
  await page.goto(`${room.address}/keys?on=${EVENING}`);
  const entries = await page.locator('nav a[data-key]').evaluateAll((all) =>
    all.map((a) => [a.dataset.key, a.textContent, a.pathname]));
  assert.ok(entries.length >= 5);
  for (const [letter, name, path] of entries) {
    await page.goto(`${room.address}/keys?on=${EVENING}`);
    await page.keyboard.press('g');
    const isThere = (url) => url.pathname !== '/keys' && url.pathname.startsWith(path);
    await Promise.all([page.waitForURL(isThere), page.keyboard.press(letter)]);
    assert.equal(await page.locator('nav a[data-key][aria-current]').innerText(), name);
    assert.match(page.url(), new RegExp(`on=${EVENING}`));
  }
});

test('j and k walk along the rows, Enter opens one, / finds', async () => {
  const page = await room.page({ width: 1200 });
  await page.goto(`${room.address}/animals?on=${EVENING}`);
  const rows = await page.locator('.animals > li a').allInnerTexts();
  const name = (text) => text.replace(/\s+/g, ' ').trim().slice(0, 20);
  const now = async () => name(await page.evaluate(() => document.activeElement.innerText));
  await page.keyboard.press('j');
  assert.equal(await now(), name(rows[0]));
  await page.keyboard.press('j');
  await page.keyboard.press('j');
  await page.keyboard.press('k');
  assert.equal(await now(), name(rows[1]));
  const ring = await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle);
  assert.equal(ring, 'solid', 'it is seen which one');
  await Promise.all([page.waitForURL('**/animal/**'), page.keyboard.press('Enter')]);
  await Promise.all([page.waitForURL('**/animals*find'), page.keyboard.press('/')]);
  await page.keyboard.type('gjk?u1');
  assert.equal(await page.locator('input[name=find]').inputValue(), 'gjk?u1', 'typed, not obeyed');
  assert.equal(await page.getByRole('dialog').isVisible(), false);
  await page.keyboard.press('Escape');
  await page.keyboard.press('j');
  assert.equal(await now(), name(rows[0]), 'out of the field the keys work again');
  assert.deepEqual(page.complaints, []);
});

test('a walk on Tonight is gone along', async () => {
  const page = await room.page({ width: 1200 });
  await page.goto(`${room.address}/?on=${EVENING}`);
  const females = await page.locator('ol.walk > li .who a').allInnerTexts();
  await page.keyboard.press('j');
  assert.equal(await focused(page), females[0]);
  await page.keyboard.press('j');
  assert.equal(await focused(page), females[1]);
});

test('a morning is answered, saved and undone without a mouse', async () => {
  const page = await room.page({ width: 1200, theme: 'dark' });
  await page.goto(`${room.address}/round/morning?on=2026-02-11`);
  const tub = await page.locator('h1').innerText();
  await page.keyboard.press('Enter');
  assert.equal(await page.locator('.notice').count(), 0, 'nothing is saved unanswered');
  const chosen = () => page.locator('input:checked').evaluateAll((all) => all.map((i) => i.value));
  for (const [key, value] of [['1', 'seen'], ['2', 'suspected'], ['3', 'none seen'], ['4', 'not looked']]) {
    await page.keyboard.press(key);
    assert.deepEqual(await chosen(), [value]);
  }
  await page.keyboard.press('1');
  await page.keyboard.press('5');
  assert.deepEqual(await chosen(), ['seen', 'no']);
  await page.keyboard.press('6');
  assert.deepEqual(await chosen(), ['seen', 'yes']);
  await page.keyboard.press('7');
  await entered(page);
  assert.match(await page.locator('.notice').innerText(), /lock of M\d+ with F\d+: seen; M\d+ taken out/);
  assert.notEqual(await page.locator('h1').innerText(), tub);
  await page.keyboard.press('u');
  await page.getByText('Withdrawn:').waitFor();
  assert.equal(await page.locator('h1').innerText(), tub, 'it is asked again');
  assert.deepEqual(page.complaints, []);
});

test('a key with Ctrl, Alt or Meta is the browser\'s own', async () => {
  const page = await room.page({ width: 1200 });
  await page.goto(`${room.address}/animals?on=${EVENING}`);
  for (const key of ['Control+j', 'Alt+j', 'Meta+j']) {
    await page.keyboard.press(key);
    assert.equal(await page.evaluate(() => document.activeElement.tagName), 'BODY', key);
  }
});

test('without script every page is there, and the keys are a page', async () => {
  const browser = room.browser;
  const context = await browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(`${room.address}/animals?on=${EVENING}`);
  await pressed(page.getByRole('link', { name: 'Keys' }));
  assert.equal(await page.locator('h1').innerText(), 'Keys');
  assert.ok((await page.locator('main kbd').count()) > 10);
  assert.equal(await page.locator('dialog').isVisible(), false);
  await context.close();
});
