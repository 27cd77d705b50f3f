// A keeper's evening and morning in a real browser, on the sheets of tests/room.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { pressed, served } from './served.mjs';

const EVENING = '2026-02-10';
let room;

before(async () => {
  room = await served();
  await room.settled(EVENING);
});
after(async () => {
  await room?.stop();
});

test('old records lead to the evening of the newest one, and its moves are read', async () => {
  const page = await room.page();
  await page.goto(room.address);
  await pressed(page.getByRole('link', { name: 'Show that evening' }));
  assert.equal(await page.locator('h1').innerText(), 'Night of 10 to 11 February');
  const moves = page.locator('ol.walk:not(.done) > li');
  assert.ok((await moves.count()) > 0, 'there is a move');
  for (const move of await moves.all()) {
    assert.match(await move.innerText(), /→/);
    assert.ok(await move.locator('svg').isVisible(), 'her strip is drawn');
    assert.ok((await move.locator('.why').first().innerText()).length > 10, 'it says why');
  }
  assert.deepEqual(page.complaints, []);
});

test('a move is placed with one thumb, undone, and put back', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/round/evening?on=${EVENING}`);
  const tub = await page.locator('h1').innerText();
  const button = page.getByRole('button', { name: 'Placed' });
  assert.ok((await button.boundingBox()).height >= 56);
  await pressed(button);
  assert.match(await page.locator('.notice').innerText(), /Written: M\d+ placed with F\d+/);
  assert.notEqual(await page.locator('h1').innerText(), tub, 'the next tub is shown');
  await pressed(page.getByRole('button', { name: 'Undo' }));
  assert.match(await page.locator('.notice').innerText(), /Withdrawn: M\d+ placed with F\d+/);
  assert.equal(await page.locator('h1').innerText(), tub, 'it is asked again');
  assert.deepEqual(page.complaints, []);
});

test('a lock is recorded in the morning at 360 px and undone', async () => {
  const page = await room.page({ theme: 'night' });
  await page.goto(`${room.address}/round/morning?on=2026-02-11`);
  const answers = page.locator('.answers span');
  assert.deepEqual(await answers.allInnerTexts(), [
    'Locked', 'Maybe', 'Not locked', 'Didn’t look', 'Left together', 'Taken out',
  ]);
  for (const answer of await answers.all()) {
    assert.ok((await answer.boundingBox()).height >= 56, 'large enough for a thumb');
  }
  assert.equal(await page.locator('input:checked').count(), 0, 'nothing is filled in beforehand');
  const before = await page.locator('h1').innerText();
  await page.getByText('Save, next tub').click();
  assert.equal(await page.locator('.notice').count(), 0, 'without answers nothing is sent');
  await page.getByRole('radio', { name: 'Locked', exact: true }).check();
  await page.getByRole('radio', { name: 'Taken out' }).check();
  await pressed(page.getByText('Save, next tub'));
  assert.match(await page.locator('.notice').innerText(), /lock of M\d+ with F\d+: seen; M\d+ taken out/);
  assert.notEqual(await page.locator('h1').innerText(), before);
  await pressed(page.getByRole('button', { name: 'Undo' }));
  assert.equal(await page.locator('h1').innerText(), before);
  assert.deepEqual(page.complaints, []);
});

test('the sheet on paper has every move with a box to tick, and no dark fills', async () => {
  const page = await room.page({ width: 1200, theme: 'night' });
  await page.goto(`${room.address}/?on=${EVENING}`);
  const read = () => page.locator('ol.walk:not(.done) .who b').allInnerTexts();
  const onScreen = await read();
  await page.emulateMedia({ media: 'print' });
  assert.deepEqual(await read(), onScreen);
  for (const move of await page.locator('ol.walk:not(.done) > li').all()) {
    assert.ok(await move.isVisible());
    assert.ok(await move.locator('.tick').isVisible());
  }
  for (const place of ['html', 'body']) {
    const ground = await page.locator(place).evaluate((e) => getComputedStyle(e).backgroundColor);
    assert.equal(ground, 'rgb(255, 255, 255)', place);
  }
  assert.ok(await page.locator('nav').isHidden());
});

test('no page scrolls sideways or complains, in any theme', async () => {
  const paths = ['/', '/round/evening', '/round/morning', '/season', '/animals', '/animal/F06', '/desk'];
  for (const [width, theme] of [[320, 'night'], [360, 'light'], [1200, 'dark']]) {
    const page = await room.page({ width, theme });
    for (const path of paths) {
      await page.goto(`${room.address}${path}?on=${EVENING}`);
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(over <= 0, `${path} at ${width}: ${over} px too wide`);
    }
    assert.deepEqual(page.complaints, []);
  }
});

test('a weight written on an animal\'s page is in its history and can be withdrawn', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/animal/F06?on=${EVENING}`);
  await page.getByLabel('Grams').fill('2,481');
  await pressed(page.getByRole('button', { name: 'Save weight' }));
  assert.match(await page.locator('.notice').innerText(), /F06 weighed 2481 g/);
  const line = page.locator('.history li', { hasText: 'F06 weighed 2481 g' }).first();
  await pressed(line.getByRole('button'));
  assert.match(await page.locator('.history s').first().innerText(), /2481 g/);
});
