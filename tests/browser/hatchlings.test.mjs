// A clutch from laying to its last hatchling, with one thumb.

import assert from 'node:assert/strict';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { pressed, served } from './served.mjs';

const rows = [
  'ID,Name,Sex,Hatch date,Genetics,Sire,Dam,Weight (g),Tub',
  'M01,Russet,1.0,2016-06-01,pastel het clown,,,1100,R1-01',
  'F01,Ivy,0.1,2016-06-02,pastel het clown,,,2000,R1-02',
];
let dir;
let room;

before(async () => {
  dir = mkdtempSync(join(tmpdir(), 'clutchwright-hatchlings-'));
  writeFileSync(join(dir, 'animals.csv'), `${rows.join('\n')}\n`);
  room = await served(dir);
});
after(async () => {
  await room?.stop();
  rmSync(dir, { recursive: true, force: true });
});

/** A day so many days ago, as a form takes it. */
const ago = (days) => new Date(Date.now() - days * 86_400_000).toISOString().slice(0, 10);

test('a clutch is laid, hatches, and its hatchlings are written by pressing', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/animal/F01`);
  await page.getByText('Clutch laid', { exact: true }).click();
  const laid = page.locator('form[action="/laid"]');
  await laid.locator('[name=day]').fill(ago(70));
  await laid.locator('[name=eggs]').fill('5');
  await laid.locator('[name=sire]').fill('M01');
  await pressed(laid.getByRole('button', { name: 'Save clutch' }));
  await page.getByText(/^Clutch of .* hatched$/).click();
  const hatched = page.locator('form[action="/hatched"]');
  await hatched.locator('[name=day]').fill(ago(10));
  await hatched.locator('[name=hatchlings]').fill('2');
  await pressed(hatched.getByRole('button'));
  await pressed(page.getByRole('link', { name: /^Hatchlings of .*0 of 2 written$/ }));
  // Pastel x pastel, het x het: three times two looks.
  const looks = page.locator('.looks-to-choose label');
  assert.equal(await looks.count(), 6);
  for (const look of await looks.all()) {
    assert.ok((await look.boundingBox()).height >= 55, 'large enough for a thumb');
  }
  assert.equal(await page.locator('input:checked').count(), 0, 'nothing is chosen beforehand');
  await page.locator('label', { hasText: 'Female' }).click();
  await looks.filter({ hasText: /^pastel/ }).click();
  await pressed(page.getByRole('button', { name: 'Save, next' }));
  assert.match(await page.locator('.notice').innerText(), /F01-\d\d-1 added; F01-\d\d-1 looks pastel/);
  assert.match(await page.locator('main').innerText(), /may carry, unseen: 6\d(\.\d)?\s% het clown/);
  await page.locator('label', { hasText: 'Not told' }).click();
  await page.getByText('Something else').click();
  assert.match(await page.locator('main').innerText(), /young of F01 Ivy by M01 Russet look as listed/);
  await page.locator('[name=other]').fill('mojave');
  await pressed(page.getByRole('button', { name: 'Save, next' }));
  assert.match(await page.locator('main').innerText(), /All that hatched are written/);
  await page.goto(`${room.address}/desk`);
  assert.match(await page.locator('main').innerText(), /mojave/);
  assert.deepEqual(page.complaints, []);
});

test('the page fits at 320 px in the night room', async () => {
  const page = await room.page({ width: 320, theme: 'night' });
  await page.goto(`${room.address}/animal/F01`);
  await pressed(page.getByRole('link', { name: /^Hatchlings of/ }));
  const wide = await page.evaluate(() => [...document.querySelectorAll('body *')]
    .filter((e) => e.getBoundingClientRect().right > innerWidth + 1).map((e) => e.textContent.trim()));
  assert.deepEqual(wide, []);
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert.ok(over <= 0, `${over} px too wide`);
  assert.deepEqual(page.complaints, []);
});
