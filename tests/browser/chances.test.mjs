// From her to every male, to one pair in full; a pair planned with one thumb. Settings, too.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { pressed, served } from './served.mjs';

const EVENING = '2026-02-10';
let room;

before(async () => {
  room = await served();
});
after(async () => {
  await room?.stop();
});

test('it begins with her: a press puts every male beside her', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/?on=${EVENING}`);
  await pressed(page.getByRole('navigation').getByRole('link', { name: 'Chances' }));
  assert.equal(await page.locator('h1').innerText(), 'Chances');
  await pressed(page.getByRole('link', { name: 'F03 Zircon' }));
  assert.equal(await page.locator('h1').innerText(), 'Chances of F03 Zircon');
  const males = page.locator('ol.males').first().locator(':scope > li');
  assert.ok((await males.count()) >= 15, 'every male of breeding size');
  assert.match(await males.first().innerText(), /Planned, first choice/);
  for (const male of await males.all()) {
    assert.match(await male.innerText(), /(Most likely|Looks|Every egg looks|looks, each) /);
    assert.ok(await male.locator('svg').isVisible(), 'one egg is drawn');
  }
  assert.deepEqual(page.complaints, []);
});

test('a wish is written, a slip is asked about with the near word', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/chances?her=F03&on=${EVENING}`);
  await page.getByRole('textbox', { name: 'Wish' }).fill('clwn and enchi');
  await pressed(page.getByRole('button', { name: 'Reckon' }).first());
  assert.match(await page.locator('.question').innerText(), /clwn/);
  await pressed(page.locator('.question').getByRole('link', { name: 'clown', exact: true }));
  assert.equal(await page.getByRole('textbox', { name: 'Wish' }).inputValue(), 'clown and enchi');
  const burdock = page.locator('ol.males > li', { hasText: 'M02 Burdock' });
  // Clown x het clown, enchi in one copy: 1 in 4 an egg, of which 93.5 % hatch (all 25 of hers, drawn
  // towards the room's 384 of 434). Her clutches had 7, 5, 7 and 6 fertile eggs:
  // m = (25 + 3 x 6.825) / 7 = 6.496, and over Poisson sizes 1 to 14 that makes 78.1 % if he is het.
  // His label is trusted to 95 %, else one in fifty carries it: .951 x 78.1 = 74.3 %.
  assert.match(await burdock.innerText(), /At least one clown and enchi among the hatchlings of a clutch of about 6 fertile eggs: 74\.3/);
  await pressed(page.getByRole('link', { name: 'Likeliest for the wish first' }));
  assert.match(await page.locator('ol.males > li').first().innerText(), /M02 Burdock/);
});

test('one pair is planned with one thumb at 360 px, seen on her page, and withdrawn', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/chances?her=F03&him=M02&on=${EVENING}`);
  assert.equal(await page.locator('h1').innerText(), 'A clutch of F03 Zircon by M02 Burdock');
  const looks = await page.locator('table.looks tbody tr').count();
  assert.equal(looks, 8);
  assert.equal(await page.locator('svg.egg:not(.nest-eggs) path.piece').count(), looks, 'a piece for each look');
  const button = page.getByRole('button', { name: 'Second choice' });
  assert.ok((await button.boundingBox()).height >= 56, 'large enough for a thumb');
  await pressed(button);
  assert.match(await page.locator('.notice').innerText(), /planned pair: F03 and M02, second choice/);
  await page.goto(`${room.address}/animal/F03?on=${EVENING}`);
  const plan = page.locator('.plan', { hasText: 'M02 Burdock: second choice' });
  assert.ok(await plan.isVisible());
  await pressed(plan.getByRole('button', { name: 'Withdraw' }));
  assert.match(await page.locator('.notice').innerText(), /Withdrawn: planned pair/);
  assert.equal(await plan.count(), 0);
  assert.deepEqual(page.complaints, []);
});

test('her clutch is drawn egg by egg: as many as expected, the parts of looks in order', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/chances?her=F03&him=M02&on=${EVENING}`);
  // 6.5 fertile eggs are expected: six whole ones and a part.
  assert.equal(await page.locator('.nest-eggs .shell:not(.part)').count(), 6);
  assert.equal(await page.locator('.nest-eggs .shell.part').count(), 1);
  const boxes = await page.locator('.nest-eggs .shell').evaluateAll((all) => all.map((e) => e.getBoundingClientRect()));
  boxes.forEach((a, n) => boxes.slice(0, n).forEach((b) => assert.ok(
    a.left >= b.right - 1 || b.left >= a.right - 1 || a.top >= b.bottom - 1 || b.top >= a.bottom - 1,
  )));
  assert.match(await page.locator('table.looks tbody tr').first().innerText(), /0\.8\seggs/);
  assert.match(await page.locator('.nest-eggs').getAttribute('aria-label'), /that do not hatch$/);
  assert.deepEqual(page.complaints, []);
});

test('what does not hatch is striped, and a second egg shows what does', async () => {
  const page = await room.page({ theme: 'dark' });
  await page.goto(`${room.address}/chances?her=spider&him=spider&on=${EVENING}`);
  assert.equal(await page.locator('figure').count(), 3);
  assert.equal(await page.locator('svg.egg:not(.nest-eggs) path.lost').count(), 1);
  assert.match(await page.locator('.caution').first().innerText(), /Caution/);
  assert.match(await page.locator('main').innerText(), /75\s% of the fertile eggs can hatch/);
  assert.deepEqual(page.complaints, []);
});

test('on paper the egg has no dark fills and no form is printed', async () => {
  const page = await room.page({ width: 1200, theme: 'night' });
  await page.goto(`${room.address}/chances?her=F03&him=M02&on=${EVENING}`);
  await page.emulateMedia({ media: 'print' });
  for (const piece of await page.locator('svg.egg path.piece').all()) {
    const opacity = await piece.evaluate((e) => Number(getComputedStyle(e).fillOpacity));
    assert.ok(opacity <= 0.1, `${opacity}`);
  }
  for (const form of await page.locator('main form').all()) assert.ok(await form.isHidden());
  assert.ok(await page.locator('table.looks').isVisible());
});

test('a setting is saved and undone', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/?on=${EVENING}`);
  await pressed(page.getByRole('link', { name: 'Settings' }));
  const rest = page.locator('#rest_after_lock');
  await rest.locator('summary').click();
  await rest.getByRole('textbox').fill('4');
  await pressed(rest.getByRole('button', { name: 'Save' }));
  assert.match(await page.locator('.notice').innerText(), /setting rest_after_lock: 4/);
  assert.match(await rest.innerText(), /4 instead of 2/);
  await pressed(page.getByRole('button', { name: 'Undo' }));
  assert.doesNotMatch(await rest.innerText(), /instead of/);
  assert.deepEqual(page.complaints, []);
});

test('no page of these scrolls sideways, in any theme', async () => {
  const paths = [
    '/chances', '/chances?her=F03&wish=clown', '/chances?her=F03&him=M10&wish=clown',
    '/chances?her=pastel+clwn', '/chances?her=spider&him=spider+banana+male+maker', '/settings',
  ];
  for (const [width, theme] of [[320, 'night'], [360, 'light'], [1200, 'dark']]) {
    const page = await room.page({ width, theme });
    for (const path of paths) {
      const mark = path.includes('?') ? '&' : '?';
      await page.goto(`${room.address}${path}${mark}on=${EVENING}`);
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(over <= 0, `${path} at ${width}: ${over} px too wide`);
    }
    assert.deepEqual(page.complaints, []);
  }
});
