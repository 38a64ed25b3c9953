import type { Table, TableRow } from '../../reading/csv.ts';
import type { Problem } from '../../reading/yaml.ts';
import { columnsOf, headingOf, nameKey } from './table-kind.ts';
import type { TableKind } from './table-kind.ts';

/** A row as read: what it gives, and where each of its cells stands. */
export interface PlacedRow<Row> {
  /** Only what has a column in the file. */
  readonly given: Partial<Row>;
  readonly file: string;
  readonly line: number;
  /** Something to say about a cell of it; about the whole row with null, or where its file has no such column. */
  readonly say: (field: keyof Row | null, message: string) => Problem;
}

/** The columns of a file that make up each field. */
type Places<Row> = ReadonlyMap<keyof Row & string, readonly number[]>;

export type OwnHeadings = Readonly<Record<string, readonly string[]>>;

const came = (cell: string): string => (cell.length <= 40 ? `"${cell}"` : `"${cell.slice(0, 37)}..."`);

function placesOf<Row>(
  kind: TableKind<Row>,
  file: string,
  headings: readonly string[],
  own: OwnHeadings | undefined,
): { readonly places: Places<Row>; readonly problems: readonly Problem[] } {
  const index = new Map(headings.map((heading, at) => [nameKey(heading), at]));
  const problems: Problem[] = [];
  const complain = (message: string, column = 1): void => void problems.push({ file, line: 1, column, message });
  const places = new Map<keyof Row & string, readonly number[]>();
  for (const { field, heading, column, required } of columnsOf(kind)) {
    const mapped = own?.[heading];
    const wanted = (mapped ?? [heading]).map((each) => index.get(nameKey(each)));
    const found = wanted.filter((at) => at !== undefined);
    if (found.length === wanted.length) places.set(field, found);
    else if (mapped !== undefined) {
      const missing = mapped.filter((each) => !index.has(nameKey(each)));
      complain(`there is no heading "${missing.join('", "')}", which your column map gives for ${heading}`);
    } else if (required) {
      complain(`the column ${heading} is missing (${column.about}); add it, or map a heading of yours to it`);
    }
  }
  // With a map the owner's other columns are theirs; without one an unknown heading may be a misspelled "fragile".
  if (own === undefined) {
    const known = columnsOf(kind).map(({ heading }) => heading);
    for (const [at, heading] of headings.entries()) {
      if (known.includes(nameKey(heading))) continue;
      complain(`"${heading}" is not a column of ${kind.name}; allowed: ${known.join(', ')}`, at + 1);
    }
  }
  return { places, problems };
}

function readRow<Row>(
  kind: TableKind<Row>,
  places: Places<Row>,
  file: string,
  { line, cells }: TableRow,
): { readonly row: PlacedRow<Row>; readonly problems: readonly Problem[] } {
  const given: Record<string, unknown> = {};
  const problems: Problem[] = [];
  const say = (field: keyof Row | null, message: string): Problem => {
    const column = (places.get(field as keyof Row & string)?.[0] ?? 0) + 1;
    return { file, line, column, message: field === null ? message : `${headingOf(field)}: ${message}` };
  };
  for (const { field, column, required } of columnsOf(kind)) {
    const at = places.get(field);
    if (at === undefined) continue;
    const cell = at
      .map((each) => cells[each] ?? '')
      .filter((part) => part !== '')
      .join(column.joinedBy ?? ' ');
    if (cell === '' && !required) given[field] = column.empty;
    else if (cell === '') problems.push(say(field, `it is empty; allowed: ${column.kind.allowed}`));
    else {
      const value = column.kind.read(cell);
      if (value === null) problems.push(say(field, `${came(cell)} came; allowed: ${column.kind.allowed}`));
      else given[field] = value;
    }
  }
  return { row: { given: given as Partial<Row>, file, line, say }, problems };
}

/** A file's rows as far as they can be read. */
export interface ReadRows<Row> {
  readonly rows: readonly PlacedRow<Row>[];
  readonly problems: readonly Problem[];
  /** What rows are about that have something wrong in them; null where nothing could be read, so that it may be anything. */
  readonly unread: readonly string[] | null;
}

/** Every row of a table that can be read, and all that is wrong with the others. */
export function readRows<Row>(
  kind: TableKind<Row>,
  file: string,
  table: Table,
  own: OwnHeadings | undefined,
): ReadRows<Row> {
  const { places, problems } = placesOf(kind, file, table.headings, own);
  if (problems.length > 0) return { rows: [], problems, unread: null };
  const read = table.rows.map((row) => readRow(kind, places, file, row));
  const broken = read.filter((each) => each.problems.length > 0).map(({ row }) => row.given);
  // A rental has no field that names it: a broken row may be about any.
  const namesIt = (given: Partial<Row>): given is Row =>
    kind.identity.length > 0 && kind.identity.every((field) => field in given);
  return {
    rows: read.filter((each) => each.problems.length === 0).map(({ row }) => row),
    problems: read.flatMap((each) => each.problems),
    unread: broken.every(namesIt) ? broken.filter(namesIt).map((given) => kind.keyOf(given)) : null,
  };
}

/** What the columns that a file lacks mean. */
export function emptiesOf<Row>(kind: TableKind<Row>): Partial<Row> {
  const optional = columnsOf(kind).filter(({ required }) => !required);
  return Object.fromEntries(optional.map(({ field, column }) => [field, column.empty])) as Partial<Row>;
}
