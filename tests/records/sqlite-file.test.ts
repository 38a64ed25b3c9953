import { mkdir, open, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { sql } from 'kysely';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openRecords } from '../../src/records/open.ts';
import { freshSqlite } from './places.ts';
import { GUEST, entriesOf, take } from './a-night.ts';

/**
 * Marks the file so that SQLite may read but not write it, whoever runs the test (leave to write does not stop root).
 * Source: https://www.sqlite.org/fileformat.html, 1.3.3: byte 18 is the write version; above 2 the file is read-only.
 */
async function makeReadOnly(file: string): Promise<void> {
  const handle = await open(file, 'r+');
  await handle.write(Uint8Array.of(3), 0, 1, 18);
  await handle.close();
}

describe('a SQLite file', () => {
  let place: Awaited<ReturnType<typeof freshSqlite>>;
  beforeEach(async () => {
    place = await freshSqlite();
  });
  afterEach(() => place.remove());

  it('is made with its folder, and opened again keeps what it has', async () => {
    const settings = { sqliteFile: join(place.file, '..', 'data', 'night', 'desk.sqlite') };
    const first = await openRecords(settings);
    await first.shared((tx) => take(tx, 'SM1', GUEST, 'beep'));
    await first.close();
    const second = await openRecords(settings);
    expect(await entriesOf(second, GUEST)).toHaveLength(2);
    expect(await second.shared((tx) => take(tx, 'SM1', GUEST, 'beep'))).toBe('reply 1 to SM1');
    await second.close();
  });

  it('has every committed text on disk before it is answered', async () => {
    const records = await openRecords(place.settings);
    await records.shared((tx) => take(tx, 'SM1', GUEST, 'beep'));
    // 2 is FULL: the disk is told to flush at each commit (https://www.sqlite.org/pragma.html#pragma_synchronous).
    const { rows } = await records.onTables(({ db }) => sql`pragma synchronous`.execute(db));
    expect(rows).toMatchObject([{ synchronous: 2 }]);
    // The log beside the file is what a power cut would leave: the text is in it, and no close has tidied up.
    expect((await readFile(`${place.file}-wal`)).includes('reply 1 to SM1')).toBe(true);
    await records.close();
  });

  it('that is read-only is refused with what to do', async () => {
    await (await openRecords(place.settings)).close();
    await makeReadOnly(place.file);
    const opened = openRecords(place.settings);
    await expect(opened).rejects.toThrow(
      `Records: the SQLite file ${place.file} cannot be used. It is read-only. Give`,
    );
  });

  it('that becomes unwritable refuses a text with what to do, and goes on when it can be written again', async () => {
    const records = await openRecords(place.settings);
    const other = new DatabaseSync(place.file);
    other.exec('pragma busy_timeout = 0; begin immediate');
    const refused = records.shared((tx) => take(tx, 'SM1', GUEST, 'beep'));
    await expect(refused).rejects.toThrow(/Another process holds it.*stop the other one, or use Postgres/);
    other.exec('rollback');
    other.close();
    expect(await records.shared((tx) => take(tx, 'SM1', GUEST, 'beep'))).toBe('reply 1 to SM1');
    await records.close();
  });

  it('that is a folder is refused with what to do', async () => {
    await mkdir(place.file);
    await expect(openRecords(place.settings)).rejects.toThrow(/cannot be opened. Check that its folder exists/);
  });

  it('that is something else is refused and left as it was', async () => {
    const words = 'Notes of the night of the 25th.\n'.repeat(40);
    await writeFile(place.file, words);
    await expect(openRecords(place.settings)).rejects.toThrow(/not a SQLite database/);
    expect(await readFile(place.file, 'utf8')).toBe(words);
  });

  it('that a newer Nightbell has changed is refused with what to do', async () => {
    await (await openRecords(place.settings)).close();
    const file = new DatabaseSync(place.file);
    file.exec("insert into kysely_migration (name, timestamp) values ('9999-from-the-future', '2031-01-01T00:00:00Z')");
    file.close();
    await expect(openRecords(place.settings)).rejects.toThrow(/9999-from-the-future.*Update Nightbell/);
  });
});
