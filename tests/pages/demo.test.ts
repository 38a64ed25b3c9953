import { expect, test } from 'vitest';
import { nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { audibleCarrier } from './audible-carrier.ts';
import { Visitor } from './visitor.ts';

async function theDemo(): Promise<{ desk: NightDesk; visitor: Visitor }> {
  const carrier = audibleCarrier();
  const desk = await nightDesk({ pages: true, carrier, air: carrier });
  return { desk, visitor: new Visitor(desk) };
}

test('a text from the demo’s phone is answered there, and stands on the desk’s side', async () => {
  const { visitor } = await theDemo();
  const first = await visitor.get('/');
  expect(first.path).toBe('/demo');
  const answered = await visitor.send(first, 'Text the desk', { words: "it won't stop beeping" });
  expect(answered.words).toMatch(
    /The guest’s phone 02:10 Guest it won't stop beeping 02:10 Desk Turn on the wall switches/,
  );
  expect(answered.words).toMatch(/The desk’s side 02:10 Guest.*Heard: topic/);
  expect(answered.words).toContain('Nobody was woken');
});

test('a play of blue lips rings the technician’s phone; the link in its text takes the callout, and the guest’s phone says so', async () => {
  const { desk, visitor } = await theDemo();
  await visitor.send(await visitor.get('/demo'), 'Blue lips', { play: 'lips' });
  await desk.doDue();
  const rung = await visitor.get('/demo?guest=%2B19705550103');
  expect(rung.words).toMatch(
    /Desk Call 911 now.*Technicians’ phones Bram Tiddlecote This phone rings\. .*DANGER: .*open callout/,
  );
  const [, link = ''] = /href="(\/c\/[\w-]+)"/.exec(rung.html) ?? [];
  await visitor.send(await visitor.get(link), 'TAKE');
  await desk.doDue();
  expect((await visitor.get('/demo?guest=%2B19705550103')).words).toMatch(
    /The guest’s phone .*Desk Bram has your case now/,
  );
});

test('a ringing phone is picked up and answered by a key, and stops ringing by itself', async () => {
  const { desk, visitor } = await theDemo();
  await visitor.send(await visitor.get('/demo'), 'Blue lips', { play: 'lips' });
  await desk.doDue();
  const there = '/demo?guest=%2B19705550103';
  const onTheLine = await visitor.send(await visitor.get(there), 'Pick up', { key: '0' });
  expect(onTheLine.words).toMatch(/On the line: .*press 1/i);
  await visitor.send(onTheLine, 'Press 1', { key: '1' });
  await desk.doDue();
  const taken = await visitor.get(there);
  expect(taken.words).toMatch(/Bram has your case now/);
  expect(taken.words).not.toMatch(/This phone rings|On the line/);

  const { desk: other, visitor: nobody } = await theDemo();
  await nobody.send(await nobody.get('/demo'), 'Blue lips', { play: 'lips' });
  await other.doDue();
  expect((await nobody.get(there)).words).toContain('This phone rings');
  await other.pass('PT30S');
  expect((await nobody.get(there)).words).not.toContain('This phone rings');
});

test('each play is heard as what it plays', async () => {
  const { desk, visitor } = await theDemo();
  const outlet = await visitor.send(await visitor.get('/demo'), 'switched outlet', { play: 'outlet' });
  expect(outlet.words).toMatch(/Desk It was the outlet\./);
  const lid = await visitor.send(outlet, 'A lid', { play: 'lid' });
  expect(lid.words).toMatch(/Desk .*thread|Desk .*lid/i);
  await desk.doDue();
  expect(desk.carrier.calls).toEqual([]);
});

test('with a real carrier there is no demo, for nobody and under no address', async () => {
  const desk = await nightDesk({ pages: true });
  const visitor = new Visitor(desk);
  for (const path of ['/demo', '/demo/live', '/demo/']) expect((await visitor.once(path)).status).toBe(404);
  for (const path of ['/demo/text', '/demo/play', '/demo/press']) {
    expect((await visitor.post(path, new URLSearchParams({ play: 'lips', words: 'x' }))).status).toBe(404);
  }
  expect((await visitor.get('/')).path).toBe('/sign-in');
});

test('the demo answers at this machine’s own names only', async () => {
  const { desk } = await theDemo();
  const { hostname, port } = new URL(desk.here);
  const { request } = await import('node:http');
  const status = (host: string): Promise<number | undefined> =>
    new Promise((resolve, reject) => {
      request({ hostname, port, path: '/demo', headers: { host } }, (response) => {
        response.resume();
        resolve(response.statusCode);
      })
        .on('error', reject)
        .end();
    });
  expect(await status(`localhost:${port}`)).toBe(200);
  expect(await status('rebound.example')).toBe(404);
});
