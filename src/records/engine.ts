import type { Kysely } from 'kysely';
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
}

/** The tables inside one transaction, as the modules of queries take them. */
export interface Handle {
  readonly db: Kysely<Tables>;
  /**
   * Whether rows that are read in order to be changed must be locked. Only in a writing transaction on Postgres: SQLite
   * has one writer, which has the whole file.
   */
  readonly locks: boolean;
}
