import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Client } from 'pg';
import { afterAll, beforeAll } from 'vitest';
import type { RecordsSettings } from '../../src/records/open.ts';
import { orFailInCi, unlessLeftOut, whyNot } from '../servers.ts';

/** A place for records that no other test uses. */
export interface FreshPlace {
  readonly settings: RecordsSettings;
  remove(): Promise<void>;
}

export async function freshSqlite(): Promise<FreshPlace & { readonly file: string }> {
  const folder = await mkdtemp(join(tmpdir(), 'nightbell-records-'));
  const file = join(folder, 'desk.sqlite');
  return { file, settings: { sqliteFile: file }, remove: () => rm(folder, { recursive: true }) };
}

const SERVER = process.env['NIGHTBELL_TEST_POSTGRES_URL'] ?? 'postgres://postgres@127.0.0.1:5432/postgres';

/** Runs statements on the test server, outside the records. */
export async function onServer(url: string, ...statements: readonly string[]): Promise<void> {
  const client = new Client({ connectionString: url, connectionTimeoutMillis: 2000 });
  await client.connect();
  try {
    for (const statement of statements) await client.query(statement);
  } finally {
    await client.end();
  }
}

async function reasonWithoutPostgres(): Promise<string | null> {
  try {
    await onServer(SERVER, 'select 1');
    return null;
  } catch (error) {
    return `no Postgres at ${new URL(SERVER).host} (${whyNot(error)}); set NIGHTBELL_TEST_POSTGRES_URL to run these`;
  }
}

/** Why nothing can be tried on Postgres here; null when it can. */
export const POSTGRES_MISSING = orFailInCi(await reasonWithoutPostgres());
export const POSTGRES_TITLE = `on Postgres${unlessLeftOut(POSTGRES_MISSING)}`;

/**
 * A database for one file of tests, made before them and dropped after. What it gives is emptied each time, since to
 * make a database takes the server much longer than to empty one.
 */
export function postgresDatabase(): () => Promise<FreshPlace & { readonly url: string }> {
  const name = `nightbell_test_${process.pid}_${Math.random().toString(36).slice(2, 8)}`;
  const address = new URL(SERVER);
  address.pathname = `/${name}`;
  const url = address.toString();
  beforeAll(() => onServer(SERVER, `create database ${name}`));
  // Not by force: a connection that the records left open makes this fail, as it should.
  afterAll(() => onServer(SERVER, `drop database ${name}`));
  return async () => ({
    url,
    settings: { postgresUrl: url },
    remove: () => onServer(url, 'drop schema public cascade', 'create schema public'),
  });
}
