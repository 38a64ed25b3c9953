import { readTable } from '../../reading/csv.ts';
import type { Table } from '../../reading/csv.ts';
import type { Problem } from '../../reading/yaml.ts';
import { overlapFaults, ownerFaults, rentalFaults, rentalNotes, roomFaults, unitFaults } from './checks.ts';
import type { Known, TableName, Written } from './entries.ts';
import { readRows } from './rows.ts';
import type { PlacedRow } from './rows.ts';
import { columnsOf, nameKey } from './table-kind.ts';
import type { TableKind } from './table-kind.ts';
import { MODELS, PEOPLE, PROPERTIES, ROOMS, UNITS } from './tables/places.ts';
import { rentalsTable } from './tables/rentals.ts';
import { repeated, takeRows } from './take.ts';
import type { Taken } from './take.ts';
import { takeRentals } from './take-rentals.ts';
import { NO_MAP } from './told.ts';
import type { Change, ColumnMap, Outcome, ToldFile } from './told.ts';
import { laidOver, worldOf } from './world.ts';
import type { World } from './world.ts';

/** In the order in which one needs the other. */
export const TABLE_NAMES: readonly TableName[] = ['models', 'properties', 'rooms', 'units', 'people', 'rentals'];

type AnyKind = TableKind<Record<string, unknown>>;

/** The kinds of tables, with dates as the owner writes them. */
export function tableKinds({ dates }: Pick<ColumnMap, 'dates'>): Readonly<Record<TableName, AnyKind>> {
  const kinds = {
    models: MODELS,
    properties: PROPERTIES,
    rooms: ROOMS,
    units: UNITS,
    people: PEOPLE,
    rentals: rentalsTable(dates),
  };
  return kinds as unknown as Readonly<Record<TableName, AnyKind>>;
}

/** What a file holds: its name begins with it, else its headings are those of one table only. */
function tableOf(file: ToldFile, table: Table, map: ColumnMap): TableName | null {
  const named = TABLE_NAMES.find((name) => nameKey(file.name).startsWith(name));
  if (named !== undefined) return named;
  const headings = new Set(table.headings.map(nameKey));
  const kinds = tableKinds(map);
  const fits = TABLE_NAMES.filter((name) =>
    columnsOf(kinds[name])
      .filter(({ required }) => required)
      .flatMap(({ heading }) => map.tables[name]?.[heading] ?? [heading])
      .every((heading) => headings.has(nameKey(heading))),
  );
  // Rentals have every column of units and rooms that must be there, so the last of those that fit is meant.
  return fits.at(-1) ?? null;
}

/** Rows as they were read, by the table that they are of, before anything is known of what they name. */
export interface Reading {
  readonly rows: Readonly<Record<TableName, readonly PlacedRow<never>[]>>;
  readonly problems: readonly Problem[];
  readonly unread: World['unread'];
}

const noRows = (): Record<TableName, PlacedRow<never>[]> =>
  Object.fromEntries(TABLE_NAMES.map((name) => [name, [] as PlacedRow<never>[]])) as Record<
    TableName,
    PlacedRow<never>[]
  >;

/** One row of a table from its cells, by the headings of their columns. What is wrong has the column's number. */
export function readOneRow(name: TableName, headings: readonly string[], cells: readonly string[]): Reading {
  const table: Table = { headings, rows: [{ line: 1, cells }] };
  const told = readRows(tableKinds(NO_MAP)[name], name, table, undefined);
  const rows = { ...noRows(), [name]: told.rows as unknown as readonly PlacedRow<never>[] };
  return { rows, problems: told.problems, unread: () => false };
}

function readFiles(files: readonly ToldFile[], map: ColumnMap): Reading {
  const kinds = tableKinds(map);
  const problems: Problem[] = [];
  const rows = noRows();
  const unread: Partial<Record<TableName, readonly string[] | null>> = {};
  for (const file of files) {
    const read = readTable(file.name, file.text);
    if (!read.ok) {
      problems.push(...read.problems);
      continue;
    }
    const name = tableOf(file, read.table, map);
    if (name === null) {
      const message = `it cannot be told what this file holds; begin its name with ${TABLE_NAMES.join(', ')}, as rentals-december.csv`;
      problems.push({ file: file.name, line: 1, column: 1, message });
      continue;
    }
    const told = readRows(kinds[name], file.name, read.table, map.tables[name]);
    problems.push(...told.problems);
    rows[name].push(...(told.rows as unknown as PlacedRow<never>[]));
    const earlier = unread[name];
    unread[name] = told.unread === null || earlier === null ? null : [...(earlier ?? []), ...told.unread];
  }
  return {
    rows,
    problems,
    unread: (table, key) => unread[table] === null || (unread[table] ?? []).includes(key),
  };
}

/** An import as it would be written, beside what is said of it. */
export interface Plan {
  readonly outcome: Outcome;
  /** In an order in which it can be written; empty with problems. */
  readonly written: readonly Written[];
}

const inOrder = (problems: readonly Problem[]): readonly Problem[] =>
  problems.toSorted((a, b) => (a.file === b.file ? a.line - b.line || a.column - b.column : a.file < b.file ? -1 : 1));

/**
 * What files would change in what the records know. Pure: the same files and records give the same plan, and files that
 * were taken over give a plan without changes. Everything that is wrong is said at once.
 */
export function planImport(files: readonly ToldFile[], known: Known, map: ColumnMap): Plan {
  return planRows(readFiles(files, map), known, map);
}

/** The same for rows that were read already, from files or from a form. */
export function planRows(
  { rows, problems: unreadable, unread }: Reading,
  known: Known,
  map: Pick<ColumnMap, 'dates'>,
): Plan {
  const before = worldOf(known);
  const take = <Row extends object>(
    kind: TableKind<Row>,
    standing: ReadonlyMap<string, Row>,
    named?: (given: Partial<Row>) => Partial<Row>,
  ): readonly Taken<Row>[] => takeRows(kind, rows[kind.name] as unknown as readonly PlacedRow<Row>[], standing, named);
  const models = take(MODELS, before.models);
  const properties = take(PROPERTIES, before.properties);
  const allModels = laidOver(before.models, MODELS.keyOf, models);
  const allProperties = laidOver(before.properties, PROPERTIES.keyOf, properties);
  const rooms = take(ROOMS, before.rooms, ({ property = '', ...room }) => ({
    ...room,
    property: allProperties.get(nameKey(property))?.property ?? property,
  }));
  const units = take(UNITS, before.units, ({ model = '', ...unit }) => ({
    ...unit,
    model: allModels.get(nameKey(model))?.model ?? model,
  }));
  const people = take(PEOPLE, before.people);
  const after: World = {
    models: allModels,
    properties: allProperties,
    rooms: laidOver(before.rooms, ROOMS.keyOf, rooms),
    units: laidOver(before.units, UNITS.keyOf, units),
    people: laidOver(before.people, PEOPLE.keyOf, people),
    unread,
  };
  const rentalKind = rentalsTable(map.dates);
  const rentals = takeRentals(rentalKind, rows.rentals, known.rentals, after);
  const twice = <Row extends object>(kind: TableKind<Row>): readonly Problem[] =>
    repeated(rows[kind.name] as unknown as readonly PlacedRow<Row>[], kind.keyOf, kind.called);
  const problems = inOrder([
    ...unreadable,
    ...twice(MODELS),
    ...twice(PROPERTIES),
    ...twice(ROOMS),
    ...twice(UNITS),
    ...twice(PEOPLE),
    ...twice(rentalKind),
    ...roomFaults(rooms, after),
    ...unitFaults(units, after),
    ...ownerFaults(people, before, after),
    ...rentals.problems,
    ...rentalFaults(rentals.taken, after),
    ...overlapFaults(rentals.taken, known.rentals),
  ]);
  const all = [...models, ...properties, ...rooms, ...units, ...people, ...rentals.taken];
  const changes = all.map(({ change }) => change).filter((change): change is Change => change !== null);
  const outcome: Outcome = {
    problems,
    notes: inOrder(rentalNotes(rentals.taken, known.rentals, after)),
    changes,
    unchanged: all.length - changes.length,
  };
  const changed = <Each extends { readonly change: Change | null }>(taken: readonly Each[]): readonly Each[] =>
    taken.filter(({ change }) => change !== null);
  const written: readonly Written[] = [
    ...changed(models).map(({ entry }): Written => ({ table: 'models', entry })),
    ...changed(properties).map(({ entry }): Written => ({ table: 'properties', entry })),
    ...changed(rooms).map(({ entry }): Written => ({ table: 'rooms', entry })),
    ...changed(units).map(({ entry }): Written => ({ table: 'units', entry })),
    ...changed(people).map(({ entry }): Written => ({ table: 'people', entry })),
    ...changed(rentals.taken).map(({ entry, cancelled }): Written => ({ table: 'rentals', entry, cancelled })),
  ];
  return { outcome, written: problems.length > 0 ? [] : written };
}
