// Eggs in an incubator: where they lie, how warm, until they hatch or are lost; with one thumb.

import assert from 'node:assert/strict';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { pressed, served } from './served.mjs';

/** A day so many days ago, as a sheet and a form take it. */
const ago = (days) => new Date(Date.now() - days * 86_400_000).toISOString().slice(0, 10);

let dir;
let room;

before(async () => {
  dir = mkdtempSync(join(tmpdir(), 'clutchwright-eggs-'));
  writeFileSync(join(dir, 'animals.csv'), 'ID,Name,Sex,Hatch date\nF01,Ivy,0.1,2016-06-02\nF02,Sorrel,0.1,2016-06-02\n');
  writeFileSync(join(dir, 'clutches.csv'), `Female,Laid,Eggs,Slugs\nF01,${ago(20)},6,1\nF02,${ago(25)},4,4\n`);
  writeFileSync(join(dir, 'weights.csv'), `Date,Animal,g\n${ago(60)},F01,2000\n${ago(60)},F02,1900\n`);
  room = await served(dir);
});
after(async () => {
  await room?.stop();
  rmSync(dir, { recursive: true, force: true });
});

test('a place and its temperatures are written, drawn, and taken back', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/season`);
  await pressed(page.getByRole('link', { name: /^Eggs laid/ }).first());
  assert.ok(new URL(page.url()).hash.startsWith('#clutch-'));
  const clutch = page.locator('section', { hasText: 'F01 Ivy' });
  await clutch.getByLabel('Place').fill('incubator 1');
  await clutch.getByLabel('Since').fill(ago(20));
  await pressed(clutch.getByRole('button', { name: 'Save place' }));
  assert.match(await page.locator('.notice').innerText(), /eggs put into incubator 1/);
  for (const [days, degrees] of [[3, '31.2'], [2, '88F'], [1, '31,4']]) {
    await pressed(page.locator('section', { hasText: 'F01 Ivy' }).getByRole('link', { name: 'Write a temperature' }));
    const form = page.locator('form[action="/temperature"]');
    assert.equal(await form.getByLabel('Place').inputValue(), 'incubator 1');
    await form.getByLabel('°C').fill(degrees);
    await form.getByLabel('Day').fill(ago(days));
    await form.getByLabel('Time').fill('08:30');
    await pressed(form.getByRole('button', { name: 'Read off' }));
  }
  assert.match(await page.locator('.notice').innerText(), /incubator 1: 31\.4 °C/);
  const picture = page.locator('svg.warmth:visible');
  assert.equal(await picture.count(), 1);
  assert.match(await picture.locator('desc').textContent(), /3 read off between 31\.1 °C and 31\.4 °C/);
  await pressed(page.locator('.notice button'));
  assert.match(await page.locator('svg.warmth:visible desc').textContent(), /2 read off/);
  assert.deepEqual(page.complaints, []);
});

test('eggs that are lost wait no longer', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/eggs`);
  const slugs = page.locator('section', { hasText: 'F02 Sorrel' });
  assert.match(await slugs.innerText(), /All 4 eggs are slugs/);
  assert.doesNotMatch(await slugs.innerText(), /Hatches/);
  await pressed(page.locator('section', { hasText: 'F01 Ivy' }).getByRole('link', { name: 'Write what hatched' }));
  const form = page.locator('form[action="/hatched"]');
  await form.locator('[name=hatchlings]').fill('0');
  await pressed(form.getByRole('button', { name: 'Save hatching' }));
  await page.goto(`${room.address}/eggs`);
  assert.equal(await page.locator('section', { hasText: 'F01 Ivy' }).count(), 0);
});

test('the page never scrolls sideways, in any theme', async () => {
  for (const [width, theme] of [[320, 'night'], [360, 'light'], [1200, 'dark']]) {
    const page = await room.page({ width, theme });
    await page.goto(`${room.address}/eggs`);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(over <= 0, `at ${width}: ${over} px too wide`);
    const nav = await page.locator('nav').first().boundingBox();
    assert.ok(nav.height < 64, `the navigation stands on one line at ${width}`);
  }
});
