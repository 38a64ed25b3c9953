import type { Column } from './cell.ts';
import type { TableName } from './entries.ts';

/** A kind of table that owners write: its columns by the names that its rows have in code. */
export interface TableKind<Row> {
  readonly name: TableName;
  readonly about: string;
  readonly columns: { readonly [Field in keyof Row]-?: Column<Row[Field]> };
  /** The fields that say which thing a row is about. They are never changed by it. */
  readonly identity: readonly (keyof Row)[];
  /** The same for two rows about one thing. */
  readonly keyOf: (row: Row) => string;
  /** The thing in words. */
  readonly called: (row: Row) => string;
}

/** A name without what people vary when they write it again: case, and how many spaces. */
export function nameKey(name: string): string {
  return name.trim().replaceAll(/\s+/g, ' ').toLowerCase();
}

/** A field's name as the heading of its column: `ratedElevationM` is rated_elevation_m. */
export function headingOf(field: PropertyKey): string {
  return String(field).replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
}

/** A column with its place in code and in the file. */
export interface NamedColumn<Row> {
  readonly field: keyof Row & string;
  readonly heading: string;
  readonly column: Column<unknown>;
  /** Whether a file of this kind must have it, and each row a value in it. */
  readonly required: boolean;
}

export function columnsOf<Row>({ columns }: TableKind<Row>): readonly NamedColumn<Row>[] {
  return Object.entries<Column<unknown>>(columns).map(([field, column]) => ({
    field: field as keyof Row & string,
    heading: headingOf(field),
    column,
    required: !('empty' in column),
  }));
}

export function fieldsOf<Row>(kind: TableKind<Row>): readonly (keyof Row & string)[] {
  return columnsOf(kind).map(({ field }) => field);
}
