import type { EngineKind } from '../engine.ts';

/** The statements of one migration, in order, for one kind of database. */
export type Statements = (kind: EngineKind) => readonly string[];

/** The column `id`: given by the database, and never given twice, since technicians and carriers name rows by it. */
export const ID: Readonly<Record<EngineKind, string>> = {
  sqlite: 'id integer primary key autoincrement',
  postgres: 'id integer generated always as identity primary key',
};

/** A column that is 1 for yes and 0 for no. */
export const yesNo = (column: string): string => `${column} integer not null check (${column} in (0, 1))`;

/** The check of a column of instants: all have one length, so that they sort as text. */
export const instant = (column: string): string => `${column} text check (length(${column}) = 24)`;
