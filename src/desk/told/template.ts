import { yesOrNo } from './cell.ts';
import type { TableName } from './entries.ts';
import { tableKinds } from './look.ts';
import { columnsOf, headingOf } from './table-kind.ts';
import { NO_MAP } from './told.ts';

/** A column as owners are told of it. */
export interface ColumnHelp {
  readonly heading: string;
  readonly about: string;
  readonly allowed: string;
  readonly example: string;
  readonly required: boolean;
  /** It says which thing a row is about, and is never changed. */
  readonly identity: boolean;
  readonly yesOrNo: boolean;
}

/** An empty table to fill in: its headings, and what each column is for. */
export interface Template {
  readonly table: TableName;
  readonly about: string;
  readonly columns: readonly ColumnHelp[];
}

export function templateOf(table: TableName): Template {
  const kind = tableKinds(NO_MAP)[table];
  const columns = columnsOf(kind).map(({ heading, column, required }): ColumnHelp => {
    const { about, example, kind: cell } = column;
    const identity = kind.identity.map(headingOf).includes(heading);
    return { heading, about, allowed: cell.allowed, example, required, identity, yesOrNo: cell === yesOrNo };
  });
  return { table, about: kind.about, columns };
}

/** The first row of the file. */
export function templateCsv({ columns }: Template): string {
  return `${columns.map(({ heading }) => heading).join(',')}\n`;
}
