import { expect, test } from 'vitest';
import { ROUTES } from '../../src/pages/routes.ts';
import type { Route } from '../../src/pages/visit.ts';
import { BRAM, GUEST, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { leaveMessage } from './messages.ts';
import { A_PNG, ONE_PICTURE } from './pictures.ts';
import { Visitor, linkTo, signedIn, theOwner } from './visitor.ts';

/**
 * Who may do what, written out a second time: a route that is not in this table, or that lets someone else come, fails.
 * `n` nobody signed in, `t` a technician, `o` the owner. The demo's pages are gone from a real desk.
 */
const TABLE = `
  get  /                      nto
  get  /sign-in               nto
  post /sign-in               nto
  get  /password/:token       nto
  post /password/:token       nto
  post /sign-out               to
  get  /account                to
  post /sign-out-everywhere    to
  get  /people                  o
  post /people/:id/link         o
  post /people/:id/sign-out     o
  get  /night                   o
  get  /night/live              o
  get  /night/:id               o
  get  /night/:id/live          o
  get  /night/:id/picture/:entry/:index o
  get  /night/:id/message/:callout/:index o
  post /night/:id/mark          o
  post /night/:id/revoke        o
  get  /roster                 to
  post /roster/swap            to
  get  /flows                   o
  post /flows/hear              o
  post /flows/check             o
  get  /flows/check/live        o
  get  /flows/:flow             o
  get  /numbers                 o
  get  /numbers/:name           o
  get  /rentals                 o
  get  /rentals/new             o
  post /rentals/new             o
  get  /rentals/:id             o
  post /rentals/:id             o
  post /rentals/:id/end         o
  post /rentals/:id/cancel      o
  get  /places                  o
  get  /places/:table/new       o
  post /places/:table/new       o
  get  /places/units/:id        o
  post /places/units/:id        o
  get  /places/models/:id       o
  post /places/models/:id       o
  get  /places/properties/:id   o
  post /places/properties/:id   o
  get  /places/properties/:id/rooms/:room   o
  post /places/properties/:id/rooms/:room   o
  get  /learned                 o
  get  /callouts               to
  get  /c/:token              nto
  get  /c/:token/live         nto
  get  /c/:token/picture/:entry/:index nto
  get  /c/:token/message/:index nto
  post /c/:token              nto
  get  /demo                    -
  get  /demo/live               -
  post /demo/text               -
  post /demo/play               -
  post /demo/press              -
`;

const PEOPLE = ['n', 't', 'o'] as const;

interface House {
  readonly desk: NightDesk;
  readonly visitors: Readonly<Record<(typeof PEOPLE)[number], Visitor>>;
}

async function aHouse(): Promise<House> {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, 'my husbands lips are blue and hes breathing funny', ONE_PICTURE);
  desk.carrier.media.set(ONE_PICTURE.MediaUrl0, A_PNG);
  await leaveMessage(desk);
  return { desk, visitors: { n: new Visitor(desk), t: await signedIn(desk, BRAM), o: await theOwner(desk) } };
}

/** A route's path with the names of rows that exist. */
async function namer({ desk, visitors }: House): Promise<(path: string) => string> {
  const night = await visitors.o.get('/night');
  const people = await visitors.o.get('/people');
  const rentals = await visitors.o.get('/rentals');
  const places = await visitors.o.get('/places');
  const [, rental = ''] = /href="(\/rentals\/\d[^"]*)"/.exec(rentals.html) ?? [];
  const [, room = ''] = /href="(\/places\/properties\/[^"]*\/rooms\/[^"]*)"/.exec(rentals.html) ?? [];
  const place = (table: string): string =>
    new RegExp(`href="(/places/${table}/\\d[^"]*)"`).exec(places.html)?.[1] ?? '';
  const [, conversation = ''] = /href="\/night\/(\d[^"]*)"/.exec(night.html) ?? [];
  const [, person = ''] = /action="\/people\/(\d[^/]*)\//.exec(people.html) ?? [];
  const [, entry = ''] = /\/picture\/([^/"]*)\/0"/.exec((await visitors.n.get(linkTo(desk))).html) ?? [];
  const sheet = await visitors.o.get(`/night/${conversation}`);
  const [, callout = ''] = /\/message\/([^/"]*)\/0"/.exec(sheet.html) ?? [];
  return (path) =>
    path
      .replace(':callout/:index', `${callout}/0`)
      .replace('message/:index', 'message/0')
      .replace('/flows/:flow', '/flows/power')
      .replace('/numbers/:name', '/numbers/settled.csv')
      .replace('/rentals/:id', rental)
      .replace('/places/properties/:id/rooms/:room', room)
      .replace(/^\/places\/(units|models|properties)\/:id$/, (_, table: string) => place(table))
      .replace('/places/:table', '/places/units')
      .replace(':entry/:index', `${entry}/0`)
      .replace('/night/:id', `/night/${conversation}`)
      .replace('/people/:id', `/people/${person}`)
      .replace('/c/:token', linkTo(desk));
}

/**
 * What is not for someone sends them to sign in, refuses them, or is not there. What a form lacks is told only to those
 * who may send it.
 */
async function isLetIn(
  visitor: Visitor,
  { method, path }: Pick<Route, 'method' | 'path'>,
  to: string,
): Promise<boolean> {
  const shown = method === 'get' ? await visitor.once(to) : await visitor.post(to, new URLSearchParams());
  if (shown.status === 404) return false;
  if (shown.status === 303) return path === '/' || path === '/sign-in';
  if (shown.status !== 403) return true;
  return shown.words.includes('This form was not sent from a page of this desk');
}

test('every page and every action lets in those of the table, and nobody else', async () => {
  const house = await aHouse();
  const named = await namer(house);
  const found: string[] = [];
  for (const route of ROUTES) {
    const who: string[] = [];
    for (const person of PEOPLE) {
      if (await isLetIn(house.visitors[person], route, named(route.path))) who.push(person);
    }
    found.push(`${route.method} ${route.path} ${who.join('') || '-'}`);
  }
  const written = TABLE.trim().split('\n');
  expect(found.toSorted()).toEqual(written.map((row) => row.trim().replaceAll(/\s+/g, ' ')).toSorted());
});

test('what is refused did not happen', async () => {
  const house = await aHouse();
  const { desk, visitors } = house;
  const to = (await namer(house))('/people/:id/sign-out');
  const people = await visitors.o.get('/people');
  const [, token = ''] = /name="token" value="([^"]*)"/.exec(people.html) ?? [];
  const theirs = await visitors.t.get('/callouts');
  const [, theirToken = ''] = /name="token" value="([^"]*)"/.exec(theirs.html) ?? [];
  const sessions = (): Promise<number> =>
    desk.records.viewTables(async ({ db }) => (await db.selectFrom('sessions').select('person_id').execute()).length);
  const before = await sessions();
  for (const fields of [{ token }, { token: theirToken }, {}]) {
    expect((await visitors.t.post(to, new URLSearchParams(fields as Record<string, string>))).status).toBe(403);
  }
  expect(await sessions()).toBe(before);
});

test('a form from elsewhere is not taken: another site, no token, someone else’s token', async () => {
  const { visitors } = await aHouse();
  const page = await visitors.o.get('/account');
  const [, token = ''] = /name="token" value="([^"]*)"/.exec(page.html) ?? [];
  const own = new URLSearchParams({ token });
  const elsewhere = { Origin: 'https://elsewhere.example' };
  expect((await visitors.o.post('/sign-out-everywhere', own, elsewhere)).status).toBe(403);
  expect((await visitors.o.post('/sign-out-everywhere', own, { 'Sec-Fetch-Site': 'cross-site' })).status).toBe(403);
  expect((await visitors.o.post('/sign-out-everywhere', own, { Origin: 'null' })).status).toBe(403);
  expect((await visitors.o.post('/sign-out-everywhere', new URLSearchParams())).status).toBe(403);
  expect((await visitors.t.post('/sign-out-everywhere', own)).status).toBe(403);
  expect((await visitors.o.get('/night')).status).toBe(200);
});

test('numbers in addresses cannot be counted up, nor moved to another kind of row', async () => {
  const house = await aHouse();
  const { visitors } = house;
  const named = await namer(house);
  const path = named('/night/:id');
  const [, id = '', seal = ''] = /\/night\/(\d+)-(.*)/.exec(path) ?? [];
  const person = /\/people\/([^/]*)\//.exec(named('/people/:id/link'))?.[1] ?? '';
  for (const wrong of [
    `${Number(id) + 1}-${seal}`,
    id,
    `${id}-`,
    `0${id}-${seal}`,
    `${id}-${seal.toLowerCase()}x`,
    person,
  ]) {
    expect([wrong, (await visitors.o.get(`/night/${wrong}`)).status]).toEqual([wrong, 404]);
  }
});

test('every answer carries the headers that keep scripts, frames and guesses away', async () => {
  const { desk, visitors } = await aHouse();
  for (const path of ['/sign-in', '/night', '/nothing-here', linkTo(desk)]) {
    const { headers } = await visitors.o.get(path);
    expect([path, headers.get('content-security-policy')]).toEqual([path, expect.stringMatching(/script-src 'self'/)]);
    expect(headers.get('content-security-policy')).not.toMatch(/script-src[^;]*unsafe/);
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('referrer-policy')).toMatch(/^(same-origin|no-referrer)$/);
    expect(headers.get('content-security-policy')).toMatch(/frame-ancestors 'none'|frame-ancestors 'self'/);
  }
  const { headers } = await visitors.o.get('/night');
  expect(headers.get('content-security-policy')).toBe(
    "default-src 'none';script-src 'self';style-src 'self';img-src 'self';media-src 'self';connect-src 'self';form-action 'self';frame-ancestors 'none';base-uri 'none'",
  );
  expect(headers.get('cache-control')).toBe('no-store');
});
