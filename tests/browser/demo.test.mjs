// The first thing a newcomer sees: the made-up room, an evening and the morning after.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { demo, pressed } from './served.mjs';

let room;

before(async () => {
  room = await demo();
});
after(async () => {
  await room?.stop();
});

test('the room stands on its evening, says that it is made up, and has moves with reasons', async () => {
  const page = await room.page({ width: 1280, height: 900 });
  await page.goto(room.address);
  assert.equal(await page.locator('h1').innerText(), 'Night of 13 to 14 February');
  assert.match(await page.locator('.made-up').innerText(), /A made-up room\. Evening of Friday 13 February 2026/);
  const moves = page.locator('ol.walk').first().locator('> li');
  assert.ok((await moves.count()) >= 6, 'an evening with work to do');
  for (const move of await moves.all()) {
    assert.match(await move.innerText(), /R5-\d\d[\s\S]*→[\s\S]*R\d-\d\d/);
  }
  assert.deepEqual(page.complaints, []);
});

test('an evening is walked, a night passes, and every pair is asked about in the morning', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/round/evening`);
  let placed = 0;
  for (;;) {
    const button = page.getByRole('button', { name: 'Placed', exact: true });
    if (!(await button.count())) break;
    await pressed(button);
    placed += 1;
    assert.ok(placed < 30, 'the walk has an end');
  }
  assert.ok(placed >= 6, `${placed} placed`);
  await pressed(page.getByRole('button', { name: 'Next day' }));
  await page.goto(`${room.address}/round/morning`);
  assert.match(await page.locator('.made-up').innerText(), /Saturday 14 February 2026/);
  let looked = 0;
  for (;;) {
    const save = page.getByRole('button', { name: 'Save, next tub' });
    if (!(await save.count()) || !(await page.locator('input[name=lock]').count())) break;
    if ((await page.locator('main').innerText()).includes('Looked at.')) break;
    await page.locator('input[value="none seen"]').check();
    await page.locator('input[name=out][value=yes]').check();
    await pressed(save);
    looked += 1;
    assert.ok(looked < 40, 'the walk has an end');
  }
  assert.ok(looked >= placed, `${looked} of ${placed} looked at`);
  await page.goto(room.address);
  assert.equal(await page.locator('h1').innerText(), 'Night of 14 to 15 February');
  assert.deepEqual(page.complaints, []);
});

