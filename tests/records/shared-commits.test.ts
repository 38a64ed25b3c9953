import { sql } from 'kysely';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Tx } from '../../src/desk/records.ts';
import { migrate } from '../../src/records/migrate.ts';
import type { Engine, Handle } from '../../src/records/engine.ts';
import { SharedCommits } from '../../src/records/shared-commits.ts';
import { sqliteEngine } from '../../src/records/sqlite.ts';
import { inView } from '../../src/records/transactions.ts';
import { txOn } from '../../src/records/tx.ts';
import { begun, take } from './a-night.ts';
import { freshSqlite } from './places.ts';

const phone = (index: number): string => `+1970555${1000 + index}`;

describe('a shared commit whose transaction ends under it', () => {
  let place: Awaited<ReturnType<typeof freshSqlite>>;
  let engine: Engine;
  let commits: SharedCommits;
  beforeEach(async () => {
    place = await freshSqlite();
    engine = sqliteEngine(place.file);
    await migrate(engine);
    commits = new SharedCommits(engine);
  });
  afterEach(async () => {
    await engine.reader.destroy();
    await engine.writer.destroy();
    await place.remove();
  });

  const text = (index: number, then: (handle: Handle, tx: Tx) => Promise<unknown> = async () => {}) =>
    commits.share(async (handle) => {
      const tx = txOn(handle);
      const reply = await take(tx, `SM${index}`, phone(index), 'beep');
      await then(handle, tx);
      return reply;
    });
  const texts = (): Promise<number> =>
    inView(engine, async ({ db }) => (await db.selectFrom('entries').selectAll().execute()).length / 2);

  it('answers every text after running each alone', async () => {
    let rolledBack = 0;
    const answers = await Promise.all([
      text(0),
      text(1, async ({ db }) => {
        rolledBack += 1;
        if (rolledBack === 1) await sql`rollback`.execute(db);
      }),
      text(2),
    ]);
    expect(answers).toEqual(['reply 1 to SM0', 'reply 1 to SM1', 'reply 1 to SM2']);
    expect(await texts()).toBe(3);
  });

  it('lets nothing be written outside a transaction, even by a text that hides the error', async () => {
    // As a full disk does: SQLite rolls back on its own, and no one has said so.
    const outcomes = await Promise.allSettled([
      text(0),
      text(1, async ({ db }, tx) => {
        await sql`rollback /* by SQLite itself */`.execute(db);
        await begun(tx, phone(90)).catch(() => {});
      }),
      text(2),
    ]);
    expect(outcomes.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
    expect(await texts()).toBe(2);
    const strays = await inView(engine, ({ db }) =>
      db.selectFrom('guests').select('phone').where('phone', '=', phone(90)).execute(),
    );
    expect(strays).toEqual([]);
  });
});
