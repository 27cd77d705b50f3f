// Sheets sent through the page in a real browser, read as the command reads them, written, undone.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { pressed, served } from './served.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const sheets = join(root, 'tests', 'room');
const target = process.env.CARGO_TARGET_DIR ?? join(root, 'target');
const program = process.env.CLUTCHWRIGHT ?? join(target, 'debug', 'clutchwright');
const files = readdirSync(sheets).filter((name) => name.endsWith('.csv'));
let room;
let dir;

before(async () => {
  dir = mkdtempSync(join(tmpdir(), 'clutchwright-import-'));
  // A room of one animal, so that everything in the sheets is new.
  writeFileSync(join(dir, 'first.csv'), 'id,sex\nZ1,female\n');
  room = await served(join(dir, 'first.csv'));
});
after(async () => {
  await room?.stop();
  rmSync(dir, { recursive: true, force: true });
});

/** What the command says of the same sheets against a room of the same animal. */
function commanded() {
  const data = join(dir, 'data');
  const run = (...args) => execFileSync(program, ['import', ...args, '--data', data, '--json'], {
    encoding: 'utf8',
    maxBuffer: 64 << 20,
  });
  run(join(dir, 'first.csv'), '--zone', 'Europe/Berlin', '--yes');
  const words = [
    ['in', 'in'], ['already', 'already there'], ['doubt', 'in with doubt'], ['held', 'held'],
    ['unreadable', 'unreadable'],
  ];
  const said = JSON.parse(run(sheets)).files.map((f) => {
    const parts = words.filter(([key]) => f[key] > 0).map(([key, word]) => `${f[key]} ${word}`);
    return [`${f.file} · ${f.kind}`, `${f.rows} ${f.rows === 1 ? 'row' : 'rows'}: ${parts.join(', ')}`];
  });
  return Object.fromEntries(said);
}

test('the sheets come in by the page as by the command, and one undo takes them back', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/import`);
  await page.getByLabel('Sheets, CSV or XLSX').setInputFiles(files.map((name) => join(sheets, name)));
  await pressed(page.getByRole('button', { name: 'Read them' }));
  assert.equal(await page.locator('h1').innerText(), 'Before it is written');
  const shown = await page.locator('.sheet').evaluateAll((all) =>
    Object.fromEntries(all.map((s) => [s.querySelector('h2').innerText, s.querySelector('p').innerText])));
  assert.deepEqual(shown, commanded());
  assert.ok((await page.getByText('8,858').count()) > 0, 'the lost decimal point is asked about');
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert.ok(over <= 0, `${over} px too wide`);

  await pressed(page.getByRole('button', { name: 'Write this' }));
  assert.match(await page.locator('.notice').innerText(), /Written: \d+ records of 7 sheets/);
  await page.goto(`${room.address}/?on=2026-02-10`);
  assert.ok((await page.locator('ol.walk:not(.done) > li').count()) > 0, 'Tonight has moves');
  await page.goBack();
  await pressed(page.getByRole('button', { name: 'Undo', exact: true }));
  assert.match(await page.locator('.notice').innerText(), /Withdrawn: \d+ records of 7 sheets/);
  await page.goto(`${room.address}/?on=2026-02-10`);
  assert.equal(await page.locator('ol.walk:not(.done) > li').count(), 0, 'nothing is left of them');
  assert.deepEqual(page.complaints, []);
});

test('a column is told what it means, and a waiting row is answered on the Desk', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/import`);
  const sheet = 'Critter,When seen,Heft\nZ1,2026-01-05,1500\nZl,2026-01-12,1510\n';
  await page.getByLabel('Sheets, CSV or XLSX').setInputFiles({
    name: 'odd.csv', mimeType: 'text/csv', buffer: Buffer.from(sheet),
  });
  await pressed(page.getByRole('button', { name: 'Read them' }));
  assert.match(await page.locator('.sheet h2').innerText(), /not recognised/);
  await page.getByLabel('Its rows are').selectOption('weights');
  await page.getByLabel('The first line holds the headings').check();
  await page.locator('select[name=c0]').selectOption('animal');
  await page.locator('select[name=c1]').selectOption('date');
  await page.locator('select[name=c2]').selectOption('weight');
  await pressed(page.getByRole('button', { name: 'Read it again so' }));
  assert.equal(await page.locator('.sheet p').first().innerText(), '2 rows: 1 in, 1 held');
  await pressed(page.getByRole('button', { name: 'Write this' }));
  await pressed(page.getByRole('link', { name: /on the Desk/ }));
  await page.getByLabel('It should say').fill('Z1');
  const save = page.getByRole('button', { name: 'Save', exact: true });
  assert.ok((await save.boundingBox()).height >= 44);
  await pressed(save);
  assert.match(await page.locator('.notice').innerText(), /Written: Z1 weighed 1510 g/);
  assert.match(await page.locator('.soft').first().innerText(), /0 rows waiting/);
  await pressed(page.getByRole('button', { name: 'Undo', exact: true }));
  assert.match(await page.locator('.soft').first().innerText(), /1 row waiting/);
  assert.deepEqual(page.complaints, []);
});
