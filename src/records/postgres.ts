import { CompiledQuery, Kysely, PostgresDialect, PostgresQueryCompiler } from 'kysely';
import { Pool } from 'pg';
import type { Engine, OnWork } from './engine.ts';
import { KeepingClient } from './kept-statements.ts';
import type { Tables } from './schema.ts';
import { Blank, keepable } from './values.ts';

/** Connections of one process: one for texts that share a commit, the rest for work and pages. */
const CONNECTIONS = 10;
const CONNECT_TIMEOUT_MS = 5000;

/**
 * Every connection's settings, whatever the server's defaults: an answered text is on disk; a repeat that waits for the
 * first sees what it committed (higher isolation would not); and a stuck process cannot hold a guest's row for long.
 */
const SESSION: Readonly<Record<string, string>> = {
  synchronous_commit: 'on',
  default_transaction_isolation: 'read committed',
  lock_timeout: '8s',
  idle_in_transaction_session_timeout: '30s',
};
const SET_UP = `select ${Object.entries(SESSION)
  .map(([setting, value]) => `set_config('${setting}', '${value}', false)`)
  .join(', ')}`;

class KeepableCompiler extends PostgresQueryCompiler {
  protected override addParameter(parameter: unknown): void {
    super.addParameter(parameter instanceof Blank ? parameter : keepable(parameter));
  }
}

class PgDialect extends PostgresDialect {
  override createQueryCompiler(): PostgresQueryCompiler {
    return new KeepableCompiler();
  }
}

/** Names a database for messages, without its password. */
export function placeOf(postgresUrl: string): string {
  if (!URL.canParse(postgresUrl)) return 'Postgres';
  const { host, pathname } = new URL(postgresUrl);
  return `Postgres at ${host}${pathname}`;
}

/** Records in a Postgres database, shared by any number of processes. Connects at the first query. */
export function postgresEngine(postgresUrl: string, onWork: OnWork = () => {}): Engine {
  const pool = new Pool({
    connectionString: postgresUrl,
    max: CONNECTIONS,
    connectionTimeoutMillis: CONNECT_TIMEOUT_MS,
    application_name: 'nightbell',
    Client: KeepingClient,
  });
  // A lost connection is reported by the query that runs on it, or by the next one. Its event, idle or in use, says
  // nothing more, and would end the process if no one listened.
  pool.on('connect', (client) => client.on('error', () => {}));
  pool.on('error', () => {});
  const db = new Kysely<Tables>({
    dialect: new PgDialect({
      pool,
      onCreateConnection: async (connection) => {
        await connection.executeQuery(CompiledQuery.raw(SET_UP));
      },
    }),
  });
  return { kind: 'postgres', place: placeOf(postgresUrl), writer: db, reader: db, onWork };
}
