import type { Kysely } from 'kysely';
import type { AddedWork } from '../desk/records.ts';
import type { Tables } from './schema.ts';

export type EngineKind = 'sqlite' | 'postgres';

/** An open database of either kind. */
export interface Engine {
  readonly kind: EngineKind;
  readonly writer: Kysely<Tables>;
  /** Sees what is committed and cannot write. */
  readonly reader: Kysely<Tables>;
  /** Where the records are, without a password, for messages. */
  readonly place: string;
  /** Told of the work that a transaction wrote, after its commit. */
  readonly onWork: OnWork;
}

export type OnWork = (rows: readonly AddedWork[]) => void;

/** The tables inside one transaction, as the modules of queries take them. */
export interface Handle {
  readonly db: Kysely<Tables>;
  readonly kind: EngineKind;
  /**
   * Whether rows that are read in order to be changed must be locked. Only in a writing transaction on Postgres: SQLite
   * has one writer, which has the whole file.
   */
  readonly locks: boolean;
  /** Takes note of work that this transaction writes, to be told of once it is committed. */
  readonly noteWork?: (row: AddedWork) => void;
}
