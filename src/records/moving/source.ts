import type { DatabaseSync, SQLOutputValue } from 'node:sqlite';

export interface Column {
  readonly name: string;
  readonly isText: boolean;
}

/** A table as the file's own catalogue tells it, so that none that a migration adds can be forgotten. */
export interface FileTable {
  readonly name: string;
  readonly columns: readonly Column[];
  /** What orders its rows: the primary key, or all columns where it has none. */
  readonly order: readonly Column[];
  /** The highest number that it ever gave a row, of those that are deleted too; 0 where it numbers none. */
  readonly lastId: number;
}

export type Values = Readonly<Record<string, SQLOutputValue>>;

/** A name from the catalogue in a statement. */
const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;

/** Tables before those that name rows of them. */
function parentsFirst(database: DatabaseSync, names: readonly string[]): readonly string[] {
  const sorted = new Set<string>();
  function add(name: string, below: readonly string[]): void {
    if (below.includes(name))
      throw new Error(`The tables ${[...below, name].join(' > ')} name each other in a circle.`);
    const parents = database.prepare('select distinct "table" as parent from pragma_foreign_key_list(?)').all(name);
    for (const { parent } of parents) if (!sorted.has(String(parent))) add(String(parent), [...below, name]);
    sorted.add(name);
  }
  for (const name of names) add(name, []);
  return [...sorted];
}

function tableOf(database: DatabaseSync, name: string): FileTable {
  const described = database
    .prepare('select name, type, pk from pragma_table_info(?) order by cid')
    .all(name)
    .map((row) => ({
      name: String(row['name']),
      isText: String(row['type']).toLowerCase() === 'text',
      place: Number(row['pk']),
    }));
  const key = described.filter(({ place }) => place > 0).toSorted((one, other) => one.place - other.place);
  const last = database.prepare('select seq from sqlite_sequence where name = ?').get(name);
  return {
    name,
    columns: described,
    order: key.length > 0 ? key : described,
    lastId: Number(last?.['seq'] ?? 0),
  };
}

/** The tables of a file of records, each after those whose rows it names. */
export function tablesOf(database: DatabaseSync): readonly FileTable[] {
  const names = database
    .prepare(
      "select name from sqlite_schema where type = 'table' and name not glob 'sqlite_*' and name not glob 'kysely_*' order by name",
    )
    .all()
    .map(({ name }) => String(name));
  return parentsFirst(database, names).map((name) => tableOf(database, name));
}

/** How many rows a table has. */
export function countRows(database: DatabaseSync, { name }: FileTable): number {
  return Number(database.prepare(`select count(*) as count from ${quoted(name)}`).get()?.['count']);
}

/** The rows of a table in order, at most so many at once. */
export function* rowsOf(
  database: DatabaseSync,
  { name, columns, order }: FileTable,
  most: number,
): Generator<readonly Values[]> {
  const list = (of: readonly Column[]): string => of.map((column) => quoted(column.name)).join(', ');
  const select = database.prepare(`select ${list(columns)} from ${quoted(name)} order by ${list(order)}`);
  let rows: Values[] = [];
  for (const row of select.iterate()) {
    rows.push(row);
    if (rows.length < most) continue;
    yield rows;
    rows = [];
  }
  if (rows.length > 0) yield rows;
}
