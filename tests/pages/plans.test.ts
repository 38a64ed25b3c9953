import { DatabaseSync } from 'node:sqlite';
import { join } from 'node:path';
import { expect, onTestFinished, test, vi } from 'vitest';
import { ROUTES } from '../../src/pages/routes.ts';
import { BRAM } from '../desk/night-desk.ts';
import { aFullNight } from './every-page.ts';
import { GROWING } from './growing.ts';
import { Visitor, linkTo, theOwner } from './visitor.ts';

/** Steps of a statement's plan that read a growing table from its beginning to its end. */
function scansOf(database: DatabaseSync, sql: string): readonly string[] {
  const placeholders = sql.match(/\?/g)?.length ?? 0;
  const plan = database.prepare(`explain query plan ${sql}`).all(...Array.from({ length: placeholders }, () => null));
  return (
    plan
      .map((step) => String(step['detail']))
      .filter((detail) => GROWING.some((table) => new RegExp(`^SCAN ${table}( |$)`).test(detail)))
      // In the order of an index, up to a limit, is no end.
      .filter((detail) => !(/USING (COVERING )?INDEX/.test(detail) && /\blimit\b/.test(sql)))
  );
}

test('a scan is known when it is met', () => {
  const database = new DatabaseSync(':memory:');
  database.exec('create table entries (id integer primary key, words text); create index by_words on entries (words)');
  expect(scansOf(database, "select * from entries where id + 0 = ? and words like '%x%'")).toEqual(['SCAN entries']);
  expect(scansOf(database, 'select * from entries where words = ?')).toEqual([]);
  database.close();
});

test('no query of any page reads a table that grows with the nights from end to end', async () => {
  const prepare = vi.spyOn(DatabaseSync.prototype, 'prepare');
  onTestFinished(() => prepare.mockRestore());
  const desk = await aFullNight();
  const owner = await theOwner(desk);
  const asked = (): ReadonlySet<string> => new Set(prepare.mock.calls.map(([sql]) => sql));
  const ofTheDesk = asked();

  const night = await owner.get('/night');
  const [, sheet = ''] = /href="(\/night\/\d[^"]*)"/.exec(night.html) ?? [];
  const option = (words: string): string =>
    new RegExp(`<option value="([^"]*)"[^>]*>${words}<`).exec(night.html)?.[1] ?? '';
  const everything = new URLSearchParams({
    from: '2026-11-01',
    to: '2026-11-24',
    property: option('Marlstone Lodge'),
    unit: option('NB-01'),
    matter: 'power',
    ending: 'open',
    words: 'tone',
    below: `2026-11-25T09:10:00.000Z_${sheet.slice('/night/'.length)}`,
  });
  const one = [...everything].map(([name, value]) => `/night?${new URLSearchParams({ [name]: value }).toString()}`);
  const named = { '/night/:id': sheet, '/c/:token': linkTo(desk, BRAM), '/password/:token': '/password/none' };
  const pages = ROUTES.filter(({ method }) => method === 'get').map(({ path }) =>
    Object.entries(named).reduce((made, [from, to]) => made.replace(from, to), path),
  );
  for (const path of [...pages, ...one, `/night?${everything.toString()}`]) await owner.get(path);
  // Links on the pages lead to those that name a row: units, rooms, rentals.
  for (const path of pages.filter((each) => !each.includes(':'))) {
    const { html } = await owner.get(path);
    const [first] = /href="\/(?:units|rooms|rentals|flows)\/[^"]+"/.exec(html) ?? [];
    if (first !== undefined) await owner.get(first.slice(6, -1).replaceAll('&amp;', '&'));
  }
  const bram = new Visitor(desk);
  await bram.send(await bram.get(linkTo(desk)), 'TAKE');

  const ofThePages = [...asked()].filter((sql) => /^(select|with|update|delete)/i.test(sql) && !ofTheDesk.has(sql));
  expect(ofThePages.length).toBeGreaterThan(20);
  const database = new DatabaseSync(join(desk.folder, 'nightbell.sqlite'), { readOnly: true });
  onTestFinished(() => database.close());
  expect(ofThePages.flatMap((sql) => scansOf(database, sql).map((scan) => `${scan}: ${sql}`))).toEqual([]);
});
