// What an animal carries, and its family chart: everybody once, parents above young, no words over others, at every width.

import assert from 'node:assert/strict';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { entered, pressed, served } from './served.mjs';

// Oak and Ivy have Holly and Birch; their grandchildren Larch and Hazel have Rowan, who is mated to
// his half sister Sorrel, to his daughter Tansy and to her daughter Tulip; seventy more are his.
const rows = [
  'ID,Name,Sex,Hatch date,Genetics,Sire,Dam',
  'G1,Oak,1.0,2008-06-01,clown,,',
  'G2,Ivy,0.1,2008-06-02,pastel,,',
  'G3,Ash,1.0,2009-06-01,enchi,,',
  'G4,Fern,0.1,2009-06-02,normal,,',
  'P1,Holly,0.1,2011-06-01,pastel het clown,G1,G2',
  'P2,Birch,1.0,2011-06-01,het clown,G1,G2',
  'P3,Elder,1.0,2012-06-01,enchi,G3,G4',
  'Q1,Hazel,0.1,2014-06-01,enchi pastel 50% het clown,P3,P1',
  'Q2,Larch,1.0,2014-07-01,66% het clown,P2,G4',
  'S1,Rowan With A Name Too Long For A Row,1.0,2017-06-01,enchi pastel 50% het clown,Q2,Q1',
  'S2,Sorrel,0.1,2018-06-01,pastel clown leopard spotnose yellow belly het piebald 66% het axanthic (line a),P2,Q1',
  'T2,Tansy,0.1,2020-06-01,pastel,S1,S2',
  'T3,Tulip,0.1,2021-06-01,pastel,S1,T2',
  'U1,Willow,0.1,2021-06-01,pastel,,T2',
];
for (let n = 0; n < 70; n += 1) {
  const dam = ['T2', 'T3', 'S2', 'U1'][Math.floor(n / 6) % 4];
  const day = `20${22 + Math.floor(n / 24)}-06-${String(1 + (Math.floor(n / 6) % 4) * 7).padStart(2, '0')}`;
  rows.push(`Y${n},,${n % 2 ? '1.0' : '0.1'},${day},${['clown', 'pastel', 'normal'][n % 3]},S1,${dam}`);
}

const EVENING = '2026-02-10';
let dir;
let room;

before(async () => {
  dir = mkdtempSync(join(tmpdir(), 'clutchwright-family-'));
  writeFileSync(join(dir, 'animals.csv'), `${rows.join('\n')}\n`);
  room = await served(dir);
});
after(async () => {
  await room?.stop();
  rmSync(dir, { recursive: true, force: true });
});

const shown = 'svg.kin:visible';

/** What is drawn: code, upper and lower edge of each row; how far words stick out. */
async function drawn(page) {
  return page.locator(shown).evaluateAll((charts) => charts.flatMap((chart) => {
    const edge = chart.getBoundingClientRect();
    return [...chart.querySelectorAll('a')].map((a) => {
      const rect = a.querySelector('rect').getBoundingClientRect();
      const texts = [...a.querySelectorAll('text')].map((t) => t.getBoundingClientRect());
      const words = texts.filter((t) => t.width > 0);
      return {
        code: a.getAttribute('href').match(/animal\/([^/?]+)/)[1],
        label: a.getAttribute('aria-label'),
        top: rect.top,
        bottom: rect.bottom,
        out: Math.max(...words.map((t) => t.right - edge.right)),
        over: words.some((t, i) => words.some((u, j) => i < j && t.right > u.left + 1
          && t.left < u.right && t.bottom - 2 > u.top && t.top < u.bottom - 2)),
      };
    });
  }));
}

for (const [width, theme] of [[320, 'night'], [360, 'light'], [1280, 'dark']]) {
  test(`everybody once, parents above young, nothing over another at ${width} px`, async () => {
    const page = await room.page({ width, theme });
    for (const path of ['/animal/T3', '/animal/T3/family', '/animal/S1/family?young=all&down=2']) {
      await page.goto(`${room.address}${path}${path.includes('?') ? '&' : '?'}on=${EVENING}`);
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(over <= 0, `${path}: ${over} px too wide`);
      const all = (await drawn(page)).filter((row) => !/Draw all/.test(row.label));
      const at = Object.fromEntries(all.map((row) => [row.code, row]));
      assert.equal(Object.keys(at).length, all.length, `${path}: everybody once`);
      for (const line of rows.slice(1)) {
        const [code, , , , , sire, dam] = line.split(',');
        for (const parent of [sire, dam]) {
          if (at[code] && at[parent]) {
            assert.ok(at[parent].bottom <= at[code].top + 1, `${path}: ${parent} above ${code}`);
          }
        }
      }
      for (const row of all) {
        assert.ok(row.out <= 1, `${path}: ${row.code} sticks out by ${row.out}`);
        assert.ok(!row.over, `${path}: words of ${row.code} lie on each other`);
        if (width < 500) assert.ok(row.bottom - row.top >= 42, `${row.code}: large enough for a thumb`);
      }
      const sorted = all.toSorted((a, b) => a.top - b.top);
      sorted.slice(1).forEach((row, n) => assert.ok(row.top >= sorted[n].bottom - 1, row.code));
    }
    assert.deepEqual(page.complaints, []);
  });
}

test('loops are heavy and said; the way leads through the chart by keyboard', async () => {
  const page = await room.page({ width: 1280 });
  await page.goto(`${room.address}/animal/T3/family?on=${EVENING}`);
  assert.match(await page.locator('main').innerText(), /S1 Rowan .* on both sides of T3 Tulip/);
  const heavy = await page.locator(`${shown} path.meets`).first().evaluate((e) => getComputedStyle(e).strokeWidth);
  const light = await page.locator(`${shown} path.thread:not(.meets)`).first().evaluate((e) => getComputedStyle(e).strokeWidth);
  assert.ok(Number.parseFloat(heavy) > 1.5 * Number.parseFloat(light), `${heavy} against ${light}`);
  const first = page.locator(`${shown} a`).first();
  await page.getByRole('link', { name: 'T3 Tulip' }).first().focus();
  await page.keyboard.press('Tab');
  assert.ok(await first.evaluate((a) => a === document.activeElement), 'the first row comes next');
  assert.notEqual(await first.evaluate((a) => getComputedStyle(a).outlineStyle), 'none');
  assert.match(await first.getAttribute('aria-label'), /^G1 Oak, 1\.0, .*clown, parents not written$/);
  await entered(page);
  assert.equal(await page.locator('h1').innerText(), 'G1 Oak');
  assert.deepEqual(page.complaints, []);
});

test('hundreds of young are counted, and drawn when asked for', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/animal/S1?on=${EVENING}`);
  assert.match(await page.locator(shown).first().textContent(), /3 clutches, 2022 to 2024.*18 young: 6 /s);
  await pressed(page.getByRole('link', { name: 'All 72 young one by one' }));
  assert.equal(await page.locator('h1').innerText(), 'Family of S1 Rowan With A Name Too Long For A Row');
  assert.equal(await page.locator(`${shown} a[href*="/animal/Y"]`).count(), 70);
  assert.deepEqual(page.complaints, []);
});

test('the same is there in words, and a chart goes onto paper sheet by sheet', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/animal/T3?on=${EVENING}`);
  await page.getByText('The same in words').click();
  assert.match(await page.locator('.sentences').innerText(), /T3 Tulip is of S1 Rowan .* and T2 Tansy\./);
  await page.goto(`${room.address}/animal/S1/family?young=all&on=${EVENING}`);
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: 688, height: 1000 });
  const sheets = await page.locator(shown).evaluateAll((all) => all.map((s) => s.getBoundingClientRect()));
  assert.ok(sheets.length > 1);
  // 182 mm by 269 mm: A4 within margins of 14 mm.
  for (const sheet of sheets) assert.ok(sheet.height <= (sheet.width * 269) / 182, `${sheet.height}`);
  sheets.slice(1).forEach((s, n) => assert.ok(Math.abs(s.top - sheets[n].bottom) < 1, 'no gap'));
});

test('what she carries is told with the label beside it, and why', async () => {
  for (const [width, theme] of [[320, 'night'], [1280, 'light']]) {
    const page = await room.page({ width, theme });
    await page.goto(`${room.address}/animal/Q1?on=${EVENING}`);
    assert.match(await page.locator('main').innerText(), /The label says 50% het clown; all records together say/);
    await page.getByText('Why these are certain').click();
    const genes = page.locator('.genes > li:visible', { hasText: 'het clown' }).last();
    assert.match(await genes.locator('.chain').innerText(), /Her dam P1 Holly is het clown/);
    await pressed(genes.getByRole('link', { name: 'P1 Holly' }).first());
    assert.equal(await page.locator('h1').innerText(), 'P1 Holly');
    const twice = await page.evaluate(() => {
      const ids = [...document.querySelectorAll('[id]')].map((e) => e.id);
      return ids.filter((id, n) => ids.indexOf(id) !== n);
    });
    assert.deepEqual(twice, [], 'no id twice');
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(over <= 0, `${over} px too wide`);
    assert.deepEqual(page.complaints, []);
  }
});
