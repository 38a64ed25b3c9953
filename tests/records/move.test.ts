import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { sql } from 'kysely';
import { describe, expect, it, onTestFinished } from 'vitest';
import { lookAtMove, moveRecords } from '../../src/records/move.ts';
import type { MovedTable } from '../../src/records/move.ts';
import { openRecords } from '../../src/records/open.ts';
import type { OpenRecords, RecordsSettings } from '../../src/records/open.ts';
import { keepingNotes } from '../../src/records/keeping-notes.ts';
import { ownFolder } from '../carrier/desk-on-a-port.ts';
import { DOES_NOT_START, LITTLE_QUESTION, littleBook } from '../desk/little-flow.ts';
import { BRAM, INES, STRANGER, conversationOf, nightDesk } from '../desk/night-desk.ts';
import { callsTo } from '../desk/phone-calls.ts';
import { GUEST, NIGHT, OTHER_GUEST, entriesOf, take } from './a-night.ts';
import { fillEveryTable } from './every-table.ts';
import { POSTGRES_MISSING, POSTGRES_TITLE, onServer, postgresDatabase } from './places.ts';

const MOVED = { by: 'odalys', at: NIGHT };

async function using<T>(place: RecordsSettings, use: (records: OpenRecords) => Promise<T>): Promise<T> {
  const records = await openRecords(place);
  try {
    return await use(records);
  } finally {
    await records.close();
  }
}

type Rows = readonly Readonly<Record<string, unknown>>[];

/** Everything that records hold, by table, read without what moves it. */
function everythingIn(place: RecordsSettings): Promise<ReadonlyMap<string, Rows>> {
  return using(place, (records) =>
    records.viewTables(async ({ db }) => {
      const all = new Map<string, Rows>();
      for (const { name } of await db.introspection.getTables()) {
        const rows: Rows = await db
          // Any of them: the catalogue is the database's.
          .selectFrom(name as 'work')
          .selectAll()
          .execute();
        const sorted = rows.toSorted((one, other) => (JSON.stringify(one) < JSON.stringify(other) ? -1 : 1));
        all.set(name, sorted);
      }
      return all;
    }),
  );
}

const rowsIn = async (place: RecordsSettings): Promise<number> =>
  [...(await everythingIn(place)).values()].reduce((sum, rows) => sum + rows.length, 0);

describe.skipIf(POSTGRES_MISSING !== null)(`records that are moved ${POSTGRES_TITLE}`, () => {
  const fresh = postgresDatabase();

  async function places(): Promise<{ sqliteFile: string; postgresUrl: string; target: RecordsSettings }> {
    const folder = await ownFolder();
    const place = await fresh();
    onTestFinished(() => place.remove());
    return { sqliteFile: join(folder, 'nightbell.sqlite'), postgresUrl: place.url, target: place.settings };
  }

  it('go on there as the same night', async () => {
    const { sqliteFile, postgresUrl, target } = await places();
    const folder = join(sqliteFile, '..');
    const before = await nightDesk({ folder, book: littleBook() });
    expect(await before.text(GUEST, DOES_NOT_START, { MessageSid: 'SM1' })).toBe(LITTLE_QUESTION);
    await before.text(OTHER_GUEST, 'my husband has blue lips');
    expect(callsTo(before, BRAM)).toBe(1);
    const [conversation, last] = [await conversationOf(before, GUEST), await conversationOf(before, OTHER_GUEST)];
    await before.records.close();

    await moveRecords({ sqliteFile, postgresUrl }, MOVED);
    const desk = await nightDesk({ place: target, book: littleBook() });
    onTestFinished(() => desk.records.close());
    // A text that was answered there gets its stored reply; the next one is the answer to the question that stood.
    expect(await desk.text(GUEST, DOES_NOT_START, { MessageSid: 'SM1' })).toBe(LITTLE_QUESTION);
    expect(await entriesOf(desk.records, GUEST)).toHaveLength(2);
    expect(await desk.text(GUEST, 'yes', { MessageSid: 'SMyes' })).toBe('Good night then.');
    expect((await conversationOf(desk, GUEST)).id).toBe(conversation.id);
    // What was due is done: nobody took the callout, so the next is rung.
    await desk.pass('PT1M');
    expect(callsTo(desk, INES)).toBe(1);
    expect(await desk.text(BRAM, 'take 1', { MessageSid: 'SMtake' })).toMatch(/^Callout 1 is yours/);
    await desk.text(STRANGER, DOES_NOT_START, { MessageSid: 'SMnew' });
    expect((await conversationOf(desk, STRANGER)).id).toBeGreaterThan(last.id);
  });

  it('are all there, value for value, of every table that migrations make, whatever the database sorts by', async () => {
    const { sqliteFile, postgresUrl, target } = await places();
    await using({ sqliteFile }, fillEveryTable);
    await using(target, async () => {});
    await onServer(postgresUrl, 'alter table messages alter column id type text collate "en-x-icu"');
    const seen = await lookAtMove({ sqliteFile, postgresUrl });
    const moved = await moveRecords({ sqliteFile, postgresUrl }, MOVED);

    const [there, here] = [await everythingIn(target), await everythingIn({ sqliteFile })];
    expect([...there.keys()].toSorted()).toEqual([...here.keys()].toSorted());
    const counts = [...here].map(([name, rows]) => ({ name, rows: rows.length }));
    // A table without rows proves nothing: `every-table.ts` wants some for a new one.
    expect(counts.filter(({ rows }) => rows === 0)).toEqual([]);
    const byName = (tables: readonly { name: string; rows: number }[]): readonly object[] =>
      tables.map(({ name, rows }) => ({ name, rows })).toSorted((one, other) => (one.name < other.name ? -1 : 1));
    expect(byName(seen)).toEqual(byName(counts));
    expect(byName(moved)).toEqual(byName(counts));
    for (const [name, rows] of here) {
      const arrived = (there.get(name) ?? []).filter((row) => name !== 'keeping_notes' || row['what'] !== 'move');
      expect(arrived, name).toEqual(rows);
    }
    const [note] = await using(target, (records) => records.viewTables(keepingNotes));
    const rows = counts.reduce((sum, table) => sum + table.rows, 0);
    expect(note).toEqual({ ...MOVED, what: 'move', details: { tables: counts.length, rows } });
  });

  it('are numbered on from what they had, and never by a number that was given before', async () => {
    const { sqliteFile, postgresUrl, target } = await places();
    await using({ sqliteFile }, fillEveryTable);
    await moveRecords({ sqliteFile, postgresUrl }, MOVED);
    const next = (place: RecordsSettings): Promise<readonly number[]> =>
      using(place, async (records) => {
        // The last one before had the next number too, and was taken back.
        await records.transaction((tx) => tx.addSwap({ day: '2026-12-24', personId: 1, withId: 2 }));
        await records.shared((tx) => take(tx, 'SM-next', STRANGER, 'beep'));
        const [entry] = await entriesOf(records, STRANGER);
        const swaps = await records.viewTables(({ db }) => db.selectFrom('swaps').select('id').execute());
        return [entry?.id ?? 0, Math.max(...swaps.map(({ id }) => id))];
      });
    expect(await next(target)).toEqual(await next({ sqliteFile }));
  });

  it('that differ by what a trigger does on the way are not moved, and nothing of them stays', async () => {
    const { sqliteFile, postgresUrl, target } = await places();
    await using({ sqliteFile }, fillEveryTable);
    await using(target, async () => {});
    const does = (what: string, on: string): Promise<void> =>
      onServer(
        postgresUrl,
        `create or replace function meddle() returns trigger language plpgsql as $$ begin ${what}; end $$`,
        `create trigger meddle before insert on ${on} for each row execute function meddle()`,
      );
    const move = (): Promise<readonly MovedTable[]> => moveRecords({ sqliteFile, postgresUrl }, MOVED);

    await does("if new.words = 'words 7' then new.words := 'words 8'; end if; return new", 'entries');
    await expect(move()).rejects.toThrow(/^Records: entries is not the same.*Nothing is moved/);
    expect(await rowsIn(target)).toBe(0);
    await onServer(postgresUrl, 'drop trigger meddle on entries');

    await does('return case when new.id > 1 then new end', 'work');
    await expect(move()).rejects.toThrow(/^Records: work is not the same.*The file has 3 rows.*Postgres has 2 rows/);
    await onServer(postgresUrl, 'drop trigger meddle on work');

    // To a table that was written long before.
    await does("update guests set lang = 'es' where lang is null; return new", 'work');
    await expect(move()).rejects.toThrow(/^Records: guests is not the same/);
    expect(await rowsIn(target)).toBe(0);
    await onServer(postgresUrl, 'drop trigger meddle on work');

    await move();
    expect(await rowsIn(target)).toBe((await rowsIn({ sqliteFile })) + 1);
  });

  it('stay where they are when the connection is lost on the way', async () => {
    const { sqliteFile, postgresUrl, target } = await places();
    await using({ sqliteFile }, fillEveryTable);
    await using(target, async () => {});
    await onServer(
      postgresUrl,
      'create function cut() returns trigger language plpgsql as $$ begin perform pg_terminate_backend(pg_backend_pid()); return new; end $$',
      'create trigger cut before insert on work for each row execute function cut()',
    );
    await expect(moveRecords({ sqliteFile, postgresUrl }, MOVED)).rejects.toThrow(
      /failed while records were moved into it.*All of them are there or none.*move again/,
    );
    expect(await rowsIn(target)).toBe(0);
    expect(await using({ sqliteFile }, (records) => entriesOf(records, GUEST))).toHaveLength(460);
  });

  it('that hold what Postgres cannot are refused by table, without a guest’s words', async () => {
    const { sqliteFile, postgresUrl, target } = await places();
    await using({ sqliteFile }, fillEveryTable);
    const file = new DatabaseSync(sqliteFile);
    file.exec("update entries set words = 'my chest' || char(0) || 'hurts' where id = 300");
    file.close();
    const refused = await moveRecords({ sqliteFile, postgresUrl }, MOVED).catch((error: unknown) => error);
    expect(refused).toMatchObject({ name: 'RecordsError', message: expect.stringMatching(/row of entries/) as string });
    expect(JSON.stringify(refused, Object.getOwnPropertyNames(refused))).not.toContain('chest');
    expect(await rowsIn(target)).toBe(0);
  });

  it('are not moved over others', async () => {
    const { sqliteFile, postgresUrl, target } = await places();
    await using({ sqliteFile }, (records) => records.shared((tx) => take(tx, 'SM1', GUEST, 'beep')));
    await using(target, (records) => records.shared((tx) => take(tx, 'SM2', OTHER_GUEST, 'other')));
    const before = await everythingIn(target);
    const refused = /holds records already.*name an empty database/;
    await expect(lookAtMove({ sqliteFile, postgresUrl })).rejects.toThrow(refused);
    await expect(moveRecords({ sqliteFile, postgresUrl }, MOVED)).rejects.toThrow(refused);
    expect(await everythingIn(target)).toEqual(before);
  });

  it('are not moved among another program’s, nor while someone else is at the tables', async () => {
    const { sqliteFile, postgresUrl, target } = await places();
    await using({ sqliteFile }, (records) => records.shared((tx) => take(tx, 'SM1', GUEST, 'beep')));
    await onServer(postgresUrl, "create table people as select 'someone' as name");
    await expect(moveRecords({ sqliteFile, postgresUrl }, MOVED)).rejects.toThrow(/holds records already, in people/);
    // No table was made beside it: then the records could not make theirs now.
    await onServer(postgresUrl, 'create table entries (id integer)', 'drop table people, entries');

    await using(target, (records) =>
      records.onTables(async ({ db }) => {
        await db.selectFrom('entries').select('id').execute();
        await expect(moveRecords({ sqliteFile, postgresUrl }, MOVED)).rejects.toThrow(/is in use. Stop every desk/);
      }),
    );
    expect(await rowsIn(target)).toBe(0);
  });

  it('are not moved where other letters are kept than guests write', async () => {
    const { sqliteFile, postgresUrl } = await places();
    await using({ sqliteFile }, async () => {});
    const other = new URL(postgresUrl);
    other.pathname += '_ascii';
    const name = other.pathname.slice(1);
    await onServer(postgresUrl, `create database ${name} template template0 encoding 'SQL_ASCII' locale 'C'`);
    onTestFinished(() => onServer(postgresUrl, `drop database ${name}`));
    await expect(moveRecords({ sqliteFile, postgresUrl: other.href }, MOVED)).rejects.toThrow(
      /keeps text as SQL_ASCII.*Create a database with encoding 'UTF8'/,
    );
  });

  it('are left alone while a desk runs on them, and a look still counts them and writes nothing', async () => {
    const { sqliteFile, postgresUrl } = await places();
    await using({ sqliteFile }, async (records) => {
      await records.shared((tx) => take(tx, 'SM1', GUEST, 'beep'));
      await expect(moveRecords({ sqliteFile, postgresUrl }, MOVED)).rejects.toThrow(
        /in use.*Stop the desk first, then move/,
      );
      expect(await lookAtMove({ sqliteFile, postgresUrl })).toContainEqual({ name: 'entries', rows: 2 });
      expect(await records.shared((tx) => take(tx, 'SM2', GUEST, 'beep'))).toBe('reply 2 to SM2');
    });
    // No table was made: this makes the first one.
    await onServer(postgresUrl, 'create table entries (id integer)');
  });

  it('take no text while they are moved: a desk that starts then is refused', async () => {
    const { sqliteFile, postgresUrl, target } = await places();
    await using({ sqliteFile }, (records) => records.shared((tx) => take(tx, 'SM1', GUEST, 'beep')));
    await using(target, async () => {});
    await onServer(
      postgresUrl,
      'create function halt() returns trigger language plpgsql as $$ begin perform pg_advisory_xact_lock(7); return new; end $$',
      'create trigger halt before insert on entries for each row execute function halt()',
    );
    await using(target, async (holder) => {
      const halfway = await holder.onTables(async ({ db }) => {
        await sql`select pg_advisory_xact_lock(7)`.execute(db);
        const moving = moveRecords({ sqliteFile, postgresUrl }, MOVED);
        const waiting = async (): Promise<number> =>
          (await sql`select 1 from pg_locks where locktype = 'advisory' and not granted`.execute(db)).rows.length;
        await expect.poll(waiting, { timeout: 20_000 }).toBe(1);
        await expect(openRecords({ sqliteFile })).rejects.toThrow(/Another process holds it.*stop the other one/);
        return { moving };
      });
      expect(await halfway.moving).toContainEqual(expect.objectContaining({ name: 'entries', rows: 2 }));
    });
    expect(await using(target, (records) => entriesOf(records, GUEST))).toHaveLength(2);
  });
});
