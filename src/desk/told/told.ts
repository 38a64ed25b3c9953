import type { Problem } from '../../reading/yaml.ts';
import type { TableName } from './entries.ts';
import type { DateOrder } from './date.ts';

/** A file as its owner hands it over. */
export interface ToldFile {
  /** For messages, and for what it holds: the name begins with the table's name, or the headings tell. */
  readonly name: string;
  readonly text: string;
}

/** The owner's own headings, in place of the templates'. */
export interface ColumnMap {
  readonly dates: DateOrder;
  /** By table and column: the heading, or several whose cells are put together. */
  readonly tables: Readonly<Partial<Record<TableName, Readonly<Record<string, readonly string[]>>>>>;
}

export const NO_MAP: ColumnMap = { dates: 'year-month-day', tables: {} };

/** What one row does. */
export interface Change {
  readonly table: TableName;
  readonly what: 'new' | 'changed' | 'taken away';
  /** The thing in words: "unit NB-07". */
  readonly name: string;
  /** Of a changed one: by the heading of the column, what stands and what would. */
  readonly fields: readonly { readonly heading: string; readonly from: string; readonly to: string }[];
}

/** What an import would do, or has done. With problems nothing is done. */
export interface Outcome {
  readonly problems: readonly Problem[];
  /** What is taken over all the same, and should be known: a unit above its rated elevation. */
  readonly notes: readonly Problem[];
  readonly changes: readonly Change[];
  /** Rows that say what is on record already. */
  readonly unchanged: number;
}
