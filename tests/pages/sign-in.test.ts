import { expect, test } from 'vitest';
import { linksForNewOwners } from '../../src/pages/sign-in/tokens.ts';
import { after } from '../../src/time/instant.ts';
import { BRAM, GUEST, ODALYS, STRANGER, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { PASSWORD, Visitor, signedIn, theOwner } from './visitor.ts';

const signInTo = async (desk: NightDesk, phone: string, password: string) => {
  const visitor = new Visitor(desk);
  const answered = await visitor.send(await visitor.get('/sign-in'), 'password', { phone, password });
  return { visitor, answered };
};

test('the first start gives the owner a link that sets a password once; opening it uses nothing up', async () => {
  const desk = await nightDesk({ pages: true });
  const [link, ...more] = await linksForNewOwners(desk.pages.signIn, desk.now());
  expect([link?.name, more]).toEqual(['Odalys Fenwright', []]);
  const owner = new Visitor(desk);
  const path = link?.path ?? '';
  await owner.get(path);
  const form = await owner.get(path);
  expect((await owner.send(form, 'New password', { password: 'too short', again: 'too short' })).words).toContain(
    'It has 9 characters; from 15',
  );
  expect((await owner.send(form, 'New password', { password: PASSWORD, again: `${PASSWORD}!` })).words).toContain(
    'not the same',
  );
  const inside = await owner.send(form, 'New password', { password: PASSWORD, again: PASSWORD });
  expect(inside.words).toMatch(/Odalys Fenwright.*The night of Tue 24 Nov to Wed 25 Nov/);
  expect((await new Visitor(desk).get(path)).status).toBe(410);
  expect(await linksForNewOwners(desk.pages.signIn, desk.now())).toEqual([]);
});

test('a link lasts a day, and an older one ends with a newer', async () => {
  const desk = await nightDesk({ pages: true });
  const [first] = await linksForNewOwners(desk.pages.signIn, desk.now());
  const [second] = await linksForNewOwners(desk.pages.signIn, desk.now());
  const visitor = new Visitor(desk);
  expect((await visitor.get(first?.path ?? '')).status).toBe(410);
  expect((await visitor.get(second?.path ?? '')).status).toBe(200);
  await desk.pass('PT24H');
  expect((await visitor.get(second?.path ?? '')).status).toBe(410);
});

test('number and password sign in, however the number is written; wrong ones are not told apart', async () => {
  const desk = await nightDesk({ pages: true });
  await theOwner(desk);
  expect((await signInTo(desk, '(970) 555-0192', PASSWORD)).answered.words).toContain('The night of');
  const wrongs = [
    await signInTo(desk, ODALYS, 'seven marmots under the roof'),
    await signInTo(desk, BRAM, PASSWORD), // has no password yet
    await signInTo(desk, STRANGER, PASSWORD),
    await signInTo(desk, 'no number', PASSWORD),
  ];
  for (const { answered } of wrongs) {
    expect([answered.status, answered.words]).toEqual([401, expect.stringContaining('do not go together')]);
  }
});

test('after eight tries a quarter of an hour must pass, for the right password too', async () => {
  const desk = await nightDesk({ pages: true });
  await theOwner(desk);
  for (let n = 0; n < 8; n += 1) await signInTo(desk, ODALYS, `wrong password ${n}`);
  expect((await signInTo(desk, ODALYS, PASSWORD)).answered.status).toBe(429);
  await desk.pass('PT15M1S');
  expect((await signInTo(desk, ODALYS, PASSWORD)).answered.status).toBe(200);
});

test('whoever knows the number keeps nobody out: a browser of before counts for itself, all others together', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  await owner.send(await owner.get('/account'), '/sign-out-everywhere');
  const attack = async (): Promise<number> => (await signInTo(desk, ODALYS, 'a guess of someone else')).answered.status;
  const statuses: number[] = [];
  for (let n = 0; n < 10; n += 1) statuses.push(await attack());
  expect(statuses).toEqual([...Array.from({ length: 8 }, () => 401), 429, 429]);
  const back = await owner.send(await owner.get('/sign-in'), 'password', { phone: ODALYS, password: PASSWORD });
  expect(back.words).toContain('The night of');
  // Their coming gives nobody else more guesses, and the right one is none either.
  expect(await attack()).toBe(429);
  expect((await signInTo(desk, ODALYS, PASSWORD)).answered.status).toBe(429);
});

test('a browser of before has eight tries too, and is none of another person or of one who made it up', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const bram = await signedIn(desk, BRAM);
  await owner.send(await owner.get('/account'), '/sign-out-everywhere');
  const guess = async (visitor: Visitor, password = 'a guess of a thief'): Promise<number> =>
    (await visitor.send(await visitor.get('/sign-in'), 'password', { phone: ODALYS, password })).status;
  for (let n = 0; n < 8; n += 1) expect(await guess(owner)).toBe(401);
  expect(await guess(owner, PASSWORD)).toBe(429);

  for (let n = 0; n < 8; n += 1) await signInTo(desk, ODALYS, 'a guess of someone else');
  await bram.send(await bram.get('/account'), '/sign-out-everywhere');
  expect(await guess(bram)).toBe(429);
  const [, person = '', name = ''] = /^(\d+)\.([\w-]+)\./.exec(owner.cookies.get('__Host-nightbell-known') ?? '') ?? [];
  const made = new Visitor(desk);
  const form = await made.get('/sign-in');
  const cookies = [...made.cookies].map(([key, value]) => `${key}=${value}`).join('; ');
  const token = /name="token" value="([^"]*)"/.exec(form.html)?.[1] ?? '';
  const fields = new URLSearchParams({ phone: ODALYS, password: PASSWORD, token });
  const cookie = `${cookies}; __Host-nightbell-known=${person}.${name}x.${'A'.repeat(43)}`;
  expect((await made.post('/sign-in', fields, { cookie })).status).toBe(429);
});

test('passwords that come in a heap are not all looked at: guests keep the machine', async () => {
  const desk = await nightDesk({ pages: true });
  await theOwner(desk);
  const heap = await Promise.all(Array.from({ length: 8 }, (_, n) => signInTo(desk, `+1970555010${n}`, PASSWORD)));
  const answers = heap.map(({ answered }) => answered.status);
  expect(answers.filter((status) => status === 401).length).toBeGreaterThanOrEqual(4);
  expect(answers.filter((status) => status === 503).length).toBeGreaterThan(0);
  expect(await desk.text(GUEST, 'blue lips')).toMatch(/^Call 911 now/);
});

test('of passwords, sessions and links only hashes are kept', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const [link] = await linksForNewOwners(desk.pages.signIn, desk.now());
  const kept = await desk.records.viewTables(async ({ db }) => [
    await db.selectFrom('passwords').selectAll().execute(),
    await db.selectFrom('sessions').selectAll().execute(),
    await db.selectFrom('password_links').selectAll().execute(),
  ]);
  expect(kept[0]).toEqual([expect.objectContaining({ hash: expect.stringMatching(/^scrypt\$131072\$8\$1\$/) })]);
  const secrets = [PASSWORD, ...owner.cookies.values(), ...(link === undefined ? [] : [link.path.slice(10)])];
  for (const secret of secrets) expect(JSON.stringify(kept)).not.toContain(secret);
});

test('cookies are for this host over https, and for no script and no other site', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  expect([...owner.cookies.keys()]).toContain('__Host-nightbell-session');
  const visitor = new Visitor(desk);
  const form = await visitor.get('/sign-in');
  const fields = new URLSearchParams({
    phone: ODALYS,
    password: PASSWORD,
    token: /name="token" value="([^"]*)"/.exec(form.html)?.[1] ?? '',
  });
  const set = (await visitor.post('/sign-in', fields)).headers.getSetCookie();
  expect(set).toHaveLength(2);
  expect(set[0]).toMatch(
    /^__Host-nightbell-session=[\w-]{43}; Max-Age=1209600; Path=\/; HttpOnly; Secure; SameSite=Lax$/,
  );
  expect(set[1]).toMatch(
    /^__Host-nightbell-known=\d+\.[\w-]{43}\.[\w-]{43}; Max-Age=15552000; Path=\/; HttpOnly; Secure; SameSite=Lax$/,
  );
});

test('signing out ends the session; everywhere ends all of them; two weeks end it by themselves', async () => {
  const desk = await nightDesk({ pages: true });
  const phone = await theOwner(desk);
  const { visitor: laptop } = await signInTo(desk, ODALYS, PASSWORD);
  const { visitor: tablet } = await signInTo(desk, ODALYS, PASSWORD);
  const stolen = tablet.cookies.get('__Host-nightbell-session') ?? '';
  await tablet.send(await tablet.get('/night'), '/sign-out');
  const thief = new Visitor(desk);
  expect((await thief.once('/night', { headers: { cookie: `__Host-nightbell-session=${stolen}` } })).status).toBe(303);
  expect((await phone.once('/night')).status).toBe(200);
  await phone.send(await phone.get('/account'), '/sign-out-everywhere');
  expect((await laptop.once('/night')).status).toBe(303);
  const { visitor: again } = await signInTo(desk, ODALYS, PASSWORD);
  await desk.setClock(after(desk.now(), 'PT335H'));
  expect((await again.once('/night')).status).toBe(200);
  await desk.setClock(after(desk.now(), 'PT2H'));
  expect((await again.once('/night')).status).toBe(303);
});

test('the owner makes links for others and signs them out; whoever leaves the roster is out', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const people = await owner.get('/people');
  const made = await owner.send(people, 'a password, for Bram');
  const [, link = ''] = /https:\/\/desk\.example\.com(\/password\/[\w-]+)/.exec(made.words) ?? [];
  const bram = new Visitor(desk);
  const inside = await bram.send(await bram.get(link), 'New password', { password: PASSWORD, again: PASSWORD });
  expect(inside.words).toContain('Your callouts');
  await owner.send(made, 'Sign Bram Tiddlecote out');
  expect((await bram.once('/callouts')).status).toBe(303);

  const back = await signedIn(desk, BRAM);
  await desk.records.onTables(({ db }) =>
    db.updateTable('people').set({ active: 0 }).where('phone', '=', BRAM).execute(),
  );
  expect((await back.once('/callouts')).status).toBe(303);
  expect((await signInTo(desk, BRAM, PASSWORD)).answered.status).toBe(401);
});
