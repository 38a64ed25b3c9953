import { sql } from 'kysely';
import type { Handle } from '../engine.ts';
import { RecordsError, codeOf } from '../errors.ts';
import { Digest } from './digest.ts';
import type { Counted } from './digest.ts';
import type { FileTable, Values } from './source.ts';

/** The database that records are moved into, inside one transaction. */
export interface Target extends Handle {
  /** Where it is, without a password, for messages. */
  readonly place: string;
}

/** @throws RecordsError where any of the tables has a row, or texts could not be kept as they are */
export async function mustBeEmpty({ db, place }: Target, tables: readonly FileTable[]): Promise<void> {
  const { rows: kept } = await sql<{ server_encoding: string }>`show server_encoding`.execute(db);
  const encoding = kept[0]?.server_encoding;
  if (encoding !== 'UTF8') {
    throw new RecordsError(
      `Records: ${place} keeps text as ${encoding}, which has not all letters that guests write. Create a database with encoding 'UTF8' and move into that one.`,
    );
  }
  for (const { name } of tables) {
    const { rows: known } = await sql<{ there: boolean }>`
      select to_regclass(quote_ident(${name})) is not null as there`.execute(db);
    if (known[0]?.there !== true) continue;
    const { rows: held } = await sql`select 1 from ${sql.table(name)} limit 1`.execute(db);
    if (held.length === 0) continue;
    throw new RecordsError(
      `Records: ${place} holds records already, in ${name} for one. Nothing is moved over them: name an empty database.`,
    );
  }
}

/**
 * Keeps everyone else from the tables until the transaction ends: a desk that starts on them meanwhile would write among
 * what is moved.
 * @throws RecordsError while another has one of them
 */
export async function takeAlone({ db, place }: Target, tables: readonly FileTable[]): Promise<void> {
  try {
    const names = sql.join(tables.map(({ name }) => sql.table(name)));
    await sql`lock table ${names} in access exclusive mode nowait`.execute(db);
  } catch (cause) {
    if (codeOf(cause) !== '55P03') throw cause;
    throw new RecordsError(
      `Records: ${place} is in use. Stop every desk that has it as its DATABASE_URL, then move; nothing is moved.`,
      { cause },
    );
  }
}

/**
 * Writes rows as they are, their numbers too, in one parameter.
 * @throws RecordsError that names the table, where the database refuses a row
 */
export async function writeRows({ db }: Target, { name, columns }: FileTable, rows: readonly Values[]): Promise<void> {
  const names = sql.join(columns.map((column) => sql.id(column.name)));
  try {
    await sql`
      insert into ${sql.table(name)} (${names}) overriding system value
      select ${names} from json_populate_recordset(null::${sql.table(name)}, ${JSON.stringify(rows)}::json)`.execute(
      db,
    );
  } catch (error) {
    const code = codeOf(error);
    // 22 and 23: the value, or a constraint. What the database says of it quotes the row, and stays here.
    if (code === null || !/^2[23]/.test(code)) throw error;
    throw new RecordsError(
      `Records: Postgres refuses a row of ${name} (SQLSTATE ${code}), which something else than the desk must have written. ` +
        'Correct it in the file; nothing is moved.',
    );
  }
}

/** What the database holds of a table, read back in batches of at most so many rows. */
export async function readBack({ db }: Target, { name, columns, order }: FileTable, most: number): Promise<Counted> {
  const names = sql.join(columns.map((column) => sql.id(column.name)));
  // By the bytes of the text, as the file has it, whatever language the database sorts in.
  const by = sql.join(
    order.map((column) => (column.isText ? sql`${sql.id(column.name)} collate "C"` : sql.id(column.name))),
  );
  await sql`declare moved no scroll cursor for select ${names} from ${sql.table(name)} order by ${by}`.execute(db);
  const digest = new Digest(columns);
  for (;;) {
    const { rows } = await sql<Values>`fetch ${sql.lit(most)} from moved`.execute(db);
    for (const row of rows) digest.add(row);
    if (rows.length < most) break;
  }
  await sql`close moved`.execute(db);
  return digest.end();
}

/** Lets a table number its next row as the file would have: a number is never given twice, not even a deleted row's. */
export async function goOnNumbering({ db }: Target, { name, lastId }: FileTable): Promise<void> {
  const { rows: numbered } = await sql<{ column: string; sequence: string }>`
    select * from (
      select attname as column, pg_get_serial_sequence(quote_ident(${name}), attname) as sequence from pg_attribute
      where attrelid = quote_ident(${name})::regclass and attnum > 0 and not attisdropped
    ) as columns where sequence is not null`.execute(db);
  for (const { column, sequence } of numbered) {
    const { rows } = await sql<{ highest: number }>`
      select coalesce(max(${sql.id(column)}), 0) as highest from ${sql.table(name)}`.execute(db);
    const next = Math.max(lastId, Number(rows[0]?.highest)) + 1;
    // Not setval, which would outlast a transaction that is rolled back. The name comes quoted from the catalogue.
    await sql`alter sequence ${sql.raw(sequence)} restart with ${sql.lit(next)}`.execute(db);
  }
}
