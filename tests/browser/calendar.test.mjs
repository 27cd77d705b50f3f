// The calendar of the made-up room: an address is made on the page, and ical.js, in the browser, reads
// from it the very events that the command tells.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { after, before, test } from 'node:test';
import { join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { demo, pressed, program } from './served.mjs';

let room;
let address;

before(async () => {
  room = await demo();
});
after(async () => {
  await room?.stop();
});

const fetched = (url) => fetch(url, { redirect: 'manual' });

test('an address is made with one thumb and is read without a cookie', async () => {
  const page = await room.page({ width: 320, theme: 'night' });
  await page.goto(`${room.address}/season`);
  await pressed(page.getByRole('link', { name: 'The season in your phone’s calendar' }));
  await page.getByLabel('For').fill('Anna’s phone');
  await pressed(page.getByRole('button', { name: 'Make an address' }));
  address = await page.locator('.address code').first().innerText();
  assert.match(address, /^http:\/\/127\.0\.0\.1:\d+\/calendar\/[0-9a-f]{64}\.ics$/);
  const link = page.getByRole('link', { name: 'Subscribe on this device' });
  assert.equal(await link.getAttribute('href'), address.replace(/^http/, 'webcal'));
  assert.match(await page.locator('.address').innerText(), /Only this machine can open it/);
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert.ok(over <= 0, `${over} px too wide`);
  const answer = await fetched(address);
  assert.equal(answer.status, 200);
  assert.equal(answer.headers.get('content-type'), 'text/calendar; charset=utf-8');
  assert.deepEqual(page.complaints, []);
});

test('ical.js reads the events, their days and their words', async () => {
  const said = execFileSync(program, ['calendar', '--json', '--data', room.data], { encoding: 'utf8' });
  const meant = JSON.parse(said).events;
  assert.ok(meant.length > 50, `${meant.length} events`);
  const page = await room.page();
  await page.goto('about:blank');
  await page.addScriptTag({
    path: join(import.meta.dirname, 'node_modules', 'ical.js', 'dist', 'ical.es5.min.cjs'),
  });
  const read = async () => page.evaluate((calendar) => {
    const whole = new ICAL.Component(ICAL.parse(calendar));
    return whole.getAllSubcomponents('vevent').map((component) => {
      const event = new ICAL.Event(component);
      const last = event.endDate.clone();
      last.adjust(-1, 0, 0, 0);
      return {
        uid: event.uid,
        standing: component.getFirstPropertyValue('categories'),
        first: event.startDate.toString(),
        last: last.toString(),
        title: event.summary,
        said: event.description,
        isAllDay: event.startDate.isDate && event.endDate.isDate,
        stamp: component.getFirstPropertyValue('dtstamp').zone.tzid,
      };
    });
  }, await (await fetched(address)).text());
  const told = (events) => events.map(({ uid, standing, first, last, title, said: why }) => (
    { uid, standing, first, last, title, said: why }));
  // The command waits until the room's growth is learned; the pages go on learning beside it.
  let events = await read();
  for (let n = 0; n < 120 && !isDeepStrictEqual(told(events), told(meant)); n += 1) {
    await new Promise((resolve) => setTimeout(resolve, 500));
    events = await read();
  }
  assert.ok(events.every((event) => event.isAllDay && event.stamp === 'UTC'));
  assert.deepEqual(told(events), told(meant));
});

test('taken back, it leads nowhere', async () => {
  const page = await room.page();
  await page.goto(`${room.address}/calendar`);
  await pressed(page.getByRole('button', { name: 'Take back the address of Anna’s phone' }));
  assert.match(await page.locator('main').innerText(), /None yet/);
  assert.equal((await fetched(address)).status, 404);
});
