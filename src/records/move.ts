import { existsSync } from 'node:fs';
import type { DatabaseSync } from 'node:sqlite';
import type { Instant } from '../time/instant.ts';
import { RecordsError, codeOf } from './errors.ts';
import { addKeepingNote } from './keeping-notes.ts';
import { Digest } from './moving/digest.ts';
import type { Counted } from './moving/digest.ts';
import { countRows, rowsOf, tablesOf } from './moving/source.ts';
import type { FileTable } from './moving/source.ts';
import { goOnNumbering, mustBeEmpty, readBack, takeAlone, writeRows } from './moving/target.ts';
import type { Target } from './moving/target.ts';
import { openRecords } from './open.ts';
import { placeOf, postgresEngine } from './postgres.ts';
import { inFile, mustBeWhole, openAlone } from './sqlite-file.ts';
import { inView } from './transactions.ts';

/** Rows that are in memory at once. The longest, a version of all flows, is an eighth of a megabyte. */
const ROWS_AT_ONCE = 200;

/** From where to where. */
export interface Move {
  readonly sqliteFile: string;
  readonly postgresUrl: string;
}

export interface TableToMove {
  readonly name: string;
  readonly rows: number;
}

/** A table that is the same on both sides. */
export interface MovedTable extends Counted {
  readonly name: string;
}

/** @throws RecordsError where the file is not what it should be */
function reading<T>(sqliteFile: string, read: () => T): T {
  try {
    return read();
  } catch (cause) {
    const what = cause instanceof Error ? cause.message : String(cause);
    throw new RecordsError(
      `Records: ${sqliteFile} cannot be read (${what}). Nothing is moved. If it is damaged, put back the last backup.`,
      { cause },
    );
  }
}

/** @throws RecordsError when the target cannot be reached or holds records; nothing is written to it, no table either */
async function mustTakeRecords(postgresUrl: string, tables: readonly FileTable[]): Promise<void> {
  const engine = postgresEngine(postgresUrl);
  try {
    await inView(engine, (handle) => mustBeEmpty({ ...handle, place: engine.place }, tables));
  } finally {
    await engine.writer.destroy();
  }
}

/**
 * What would be moved, by table. Changes nothing on either side; a desk may run on the file.
 * @throws RecordsError when there is no such file, or the target cannot be reached or holds records
 */
export async function lookAtMove({ sqliteFile, postgresUrl }: Move): Promise<readonly TableToMove[]> {
  if (!existsSync(sqliteFile)) throw new RecordsError(`Records: there is no file ${sqliteFile} to move. See DATA_DIR.`);
  const tables = reading(sqliteFile, () =>
    inFile(sqliteFile, true, (database) => {
      database.exec('begin');
      return tablesOf(database).map((table) => ({ ...table, rows: countRows(database, table) }));
    }),
  );
  await mustTakeRecords(postgresUrl, tables);
  return tables.map(({ name, rows }) => ({ name, rows }));
}

async function copy(source: DatabaseSync, target: Target, table: FileTable): Promise<Counted> {
  const digest = new Digest(table.columns);
  for (const rows of rowsOf(source, table, ROWS_AT_ONCE)) {
    for (const row of rows) digest.add(row);
    await writeRows(target, table, rows);
  }
  return digest.end();
}

function mustBeSame(name: string, held: number, read: Counted, there: Counted): void {
  if (held === read.rows && read.rows === there.rows && read.checksum === there.checksum) return;
  const said = ({ rows, checksum }: Counted): string => `${rows} rows, checksum ${checksum.slice(0, 12)}`;
  throw new RecordsError(
    `Records: ${name} is not the same on both sides. The file has ${held} rows, read as ${said(read)}; Postgres has ${said(there)}. ` +
      'Nothing is moved. Look there for a trigger or a rule that changes rows, or name an empty database of its own.',
  );
}

async function moveTables(
  source: DatabaseSync,
  target: Target,
  tables: readonly FileTable[],
): Promise<readonly MovedTable[]> {
  await takeAlone(target, tables);
  // Looked at before too, but not alone.
  await mustBeEmpty(target, tables);
  const copied: { table: FileTable; read: Counted }[] = [];
  for (const table of tables) copied.push({ table, read: await copy(source, target, table) });
  const moved: MovedTable[] = [];
  // When all are written, since what is written to one table could change another.
  for (const { table, read } of copied) {
    const there = await readBack(target, table, ROWS_AT_ONCE);
    mustBeSame(table.name, countRows(source, table), read, there);
    await goOnNumbering(target, table);
    moved.push({ name: table.name, ...there });
  }
  return moved;
}

/** What ended a move, with what to do where the database or the way to it did. */
function told(error: unknown, place: string): unknown {
  const lost = error instanceof Error && error.message.startsWith('Connection terminated');
  const code = lost ? 'connection lost' : codeOf(error);
  if (code === null) return error;
  return new RecordsError(
    `Records: ${place} failed while records were moved into it (${code}). All of them are there or none: see why it failed, ` +
      'then move again, which is refused if they are.',
    { cause: error },
  );
}

/**
 * Moves the records of a desk that is stopped from its file into a Postgres database, all of them in one transaction, each
 * table compared before the end. No desk can start on the file meanwhile. The file keeps its records, its tables brought up
 * to date. Where it fails, the database may have got the tables, but has no row.
 *
 * @param by who moves them, and when, for the note that is kept with the moved records
 * @returns the tables in the order in which they were moved
 * @throws RecordsError that says what to do: a desk runs, the database holds records, is in use or fails, or a table differs
 */
export async function moveRecords(
  { sqliteFile, postgresUrl }: Move,
  { by, at }: { readonly by: string; readonly at: Instant },
): Promise<readonly MovedTable[]> {
  openAlone(sqliteFile, 'move').close();
  await (await openRecords({ sqliteFile })).close();
  const source = openAlone(sqliteFile, 'move');
  try {
    const tables = reading(sqliteFile, () => {
      mustBeWhole(source);
      return tablesOf(source);
    });
    // Before the tables are made.
    await mustTakeRecords(postgresUrl, tables);
    const records = await openRecords({ postgresUrl });
    try {
      return await records.onTables(async (handle) => {
        const moved = await moveTables(source, { ...handle, place: placeOf(postgresUrl) }, tables);
        const rows = moved.reduce((sum, table) => sum + table.rows, 0);
        await addKeepingNote(handle, { at, by, what: 'move', details: { tables: moved.length, rows } });
        return moved;
      });
    } catch (error) {
      throw told(error, placeOf(postgresUrl));
    } finally {
      await records.close();
    }
  } finally {
    source.close();
  }
}
