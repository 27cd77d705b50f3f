// A feeding day on a phone, on the sheets of tests/room.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { pressed, served } from './served.mjs';

const DAY = '2026-02-12';
let room;

before(async () => {
  room = await served();
  await room.settled(DAY);
});
after(async () => {
  await room?.stop();
});

test('a rack is fed all but these, in one step, and undone', async () => {
  const page = await room.page({ theme: 'night' });
  await page.goto(`${room.address}/round/feeding?on=${DAY}`);
  const counts = await page.locator('h1').innerText();
  assert.match(counts, /^\d+ due$/);
  assert.ok((await page.locator('.thaw li').count()) > 0, 'it says what to thaw');
  await pressed(page.getByRole('link', { name: /^Begin at/ }));
  const rack = await page.locator('h1').innerText();
  const rows = page.locator('form > .meals > li');
  const n = await rows.count();
  assert.ok(n > 2);
  assert.equal(await page.locator('input:checked').count(), 0, 'nothing is ticked beforehand');
  for (const box of await rows.locator('.buts span').all()) {
    assert.ok((await box.boundingBox()).height >= 56, 'large enough for a thumb');
  }
  const refused = rows.nth(0);
  await refused.getByRole('checkbox', { name: 'Refused' }).check();
  assert.ok(await refused.getByText('Not offered').isHidden(), 'one answer hides the other');
  await refused.getByRole('checkbox', { name: 'Refused' }).uncheck();
  await refused.getByRole('checkbox', { name: 'Refused' }).check();
  await rows.nth(1).getByRole('checkbox', { name: 'Not offered' }).check();
  await pressed(page.getByRole('button', { name: `Save ${rack}` }));
  const notice = await page.locator('.notice').innerText();
  assert.match(notice, /Written: .*refused/);
  assert.notEqual(await page.locator('h1').innerText(), rack, 'the next rack is shown');
  await page.goto(`${room.address}/round/feeding?on=${DAY}`);
  assert.equal(await page.locator('h1').innerText(), `${Number.parseInt(counts, 10) - (n - 1)} due`);
  await page.goBack();
  await pressed(page.getByRole('button', { name: 'Undo' }));
  assert.match(await page.locator('.notice').innerText(), /Withdrawn: /);
  assert.equal(await page.locator('h1').innerText(), counts, 'the whole rack is due again');
  assert.deepEqual(page.complaints, []);
});

test('the prey of one animal is changed, and one that is not due is fed too', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/round/feeding?on=${DAY}&rack=R2`);
  const row = page.locator('form > .meals > li').first();
  const changed = await row.locator('b').innerText();
  await row.locator('summary').click();
  await row.getByLabel('Prey').fill('large mouse');
  await row.getByLabel('How many').fill('2');
  await page.getByText(/not due yet$/).click();
  const other = page.locator('.rest .meals > li').first();
  const name = await other.locator('b').innerText();
  await other.getByRole('checkbox', { name: 'Took it' }).check();
  await pressed(page.getByRole('button', { name: 'Save R2' }));
  assert.match(await page.locator('.notice').innerText(), /Written: \d+ ate/);
  for (const [called, ate] of [[changed, /ate 2 × large mouse/], [name, /ate \w/]]) {
    await page.goto(`${room.address}/animal/${called.split(' ')[0]}?on=${DAY}`);
    assert.match(await page.locator('.history li').first().innerText(), ate);
  }
});

test('the feeding sheet on paper has every due animal with boxes to tick', async () => {
  const page = await room.page({ width: 800, theme: 'dark' });
  await page.goto(`${room.address}/round/feeding?on=${DAY}`);
  const due = Number.parseInt(await page.locator('h1').innerText(), 10);
  await page.emulateMedia({ media: 'print' });
  const rows = page.locator('.sheet tbody tr', { has: page.locator('.tick') });
  const after = await rows.filter({ hasText: /, after/ }).count();
  assert.equal((await rows.count()) - after, due, 'those fed after the night stand beside');
  for (const row of await rows.all()) {
    assert.ok(await row.isVisible());
    assert.equal(await row.locator('.tick:visible').count(), 3);
  }
  assert.ok(await page.locator('.parts').isHidden());
});

test('no page of the round scrolls sideways or complains, in any theme', async () => {
  const paths = ['/round/feeding', '/round/feeding?rack=R1', '/round/checks', '/round/weights', '/round/weights?all=1'];
  for (const [width, theme] of [[320, 'night'], [360, 'light'], [1280, 'dark']]) {
    const page = await room.page({ width, theme });
    for (const path of paths) {
      await page.goto(`${room.address}${path}${path.includes('?') ? '&' : '?'}on=${DAY}`);
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(over <= 0, `${path} at ${width}: ${over} px too wide`);
    }
    assert.deepEqual(page.complaints, []);
  }
});

test('a meal, a clutch and a note are written on an animal\'s page and undone', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/animal/F06?on=${DAY}`);
  const folded = page.locator('.folds details');
  assert.ok((await folded.count()) >= 9);
  assert.equal(await page.locator('.folds details[open]').count(), 0, 'one line each');
  await page.getByText('Meal', { exact: true }).click();
  const took = page.getByRole('button', { name: 'Took it' });
  assert.ok((await took.boundingBox()).height >= 56, 'large enough for a thumb');
  await pressed(took);
  assert.match(await page.locator('.notice').innerText(), /Written: F06 ate/);
  await pressed(page.getByRole('button', { name: 'Undo' }));
  assert.match(await page.locator('.notice').innerText(), /Withdrawn: F06 ate/);
  await page.getByText('Clutch laid', { exact: true }).click();
  await page.getByLabel('Eggs, slugs too').fill('8');
  await page.getByRole('radio', { name: 'Left with her' }).check();
  await pressed(page.getByRole('button', { name: 'Save clutch' }));
  assert.match(await page.locator('.notice').innerText(), /F06 laid 8 eggs, with her/);
  await pressed(page.getByRole('button', { name: 'Undo' }));
  await page.getByText('Note', { exact: true }).click();
  await page.getByLabel('Words', { exact: true }).fill('calm');
  await pressed(page.getByRole('button', { name: 'Save note' }));
  assert.match(await page.locator('.history li').first().innerText(), /calm/);
  assert.deepEqual(page.complaints, []);
});

test('an animal is added on a phone and has its page', async () => {
  const page = await room.page({ theme: 'night' });
  await page.goto(`${room.address}/animals`);
  await page.getByText('Add an animal').click();
  await page.getByLabel('Code', { exact: true }).fill('Z01');
  await page.getByRole('radio', { name: 'Male', exact: true }).check();
  await page.getByLabel('Grams').fill('1,5');
  await pressed(page.getByRole('button', { name: 'Add', exact: true }));
  assert.match(await page.locator('main').innerText(), /is no weight/);
  await page.goBack();
  if (!(await page.getByLabel('Grams').isVisible())) await page.getByText('Add an animal').click();
  await page.getByLabel('Code', { exact: true }).fill('Z01');
  await page.getByLabel('Grams').fill('612');
  await pressed(page.getByRole('button', { name: 'Add', exact: true }));
  assert.equal(await page.locator('h1').innerText(), 'Z01');
  assert.match(await page.locator('.notice').innerText(), /Z01 added; Z01 weighed 612 g/);
});
