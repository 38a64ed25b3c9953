import type { Engine } from './engine.ts';

/** The records cannot be used as they are; the message says what to do about it. */
export class RecordsError extends Error {
  override readonly name = 'RecordsError';
}

const has = <Key extends string>(error: unknown, key: Key): error is Error & Record<Key, unknown> =>
  error instanceof Error && key in error;

/** What to do, by SQLite's primary result code (https://www.sqlite.org/rescode.html). */
const SQLITE_ADVICE: Readonly<Record<number, string>> = {
  5: 'Another process holds it. Embedded records serve one process: stop the other one, or use Postgres.',
  8: 'It is read-only. Give this process leave to write the file and its folder, or name another file in the settings.',
  10: 'The disk failed to read or write. Check the disk and its connection before anything else.',
  11: 'It is damaged. Stop the desk, keep a copy, and put back the last backup.',
  13: 'The disk is full. Free some space on it; the desk goes on by itself.',
  14: 'It cannot be opened. Check that its folder exists, that it is not a folder itself, and that it may be read.',
  26: 'It is not a SQLite database. Name another file in the settings, or move this one away.',
};

/** What to do, by SQLSTATE (https://www.postgresql.org/docs/15/errcodes-appendix.html) or the system's code. */
const POSTGRES_ADVICE: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'Nothing listens there. Start Postgres, or correct the address in the settings.',
  ENOTFOUND: 'There is no such host. Correct the address in the settings.',
  ETIMEDOUT: 'It does not answer. Check the network and the address in the settings.',
  '28P01': 'It refuses the password. Correct the address in the settings.',
  '28000': 'It refuses the user. Correct the address in the settings.',
  '3D000': 'There is no such database. Create it, or correct the address in the settings.',
  '25006': 'It is read-only, as a standby is. Name the primary server in the settings.',
  '42501': 'The user may not do this. Grant it the right to create and write tables in its schema.',
  '53100': 'Its disk is full. Free some space on it; the desk goes on by itself.',
  '53300': 'It has no connection left. Raise max_connections or run fewer processes.',
};

/** SQLSTATE or the system's code of an error; null where it has none. */
export function codeOf(error: unknown): string | null {
  return has(error, 'code') && typeof error.code === 'string' ? error.code : null;
}

/** Whether the same transaction may well succeed when tried again: two of them stood in each other's way. */
export function worthRepeating(error: unknown): boolean {
  const code = codeOf(error);
  return code === '40P01' || code === '40001';
}

/**
 * Postgres quotes the row it refuses, and with it a guest's words or phone. Those parts are taken off before the error
 * can reach a log.
 */
function withoutRow(error: unknown): void {
  const code = codeOf(error);
  if (code === null || !has(error, 'detail')) return;
  error.detail = undefined;
  if (has(error, 'where')) error.where = undefined;
  // Class 22 quotes the value in the message itself.
  if (code.startsWith('22')) error.message = `Postgres refused a value (SQLSTATE ${code}).`;
}

/** The error to pass on: with what to do, where that is known; otherwise the same one, without a guest's data. */
export function explained(error: unknown, engine: Engine): unknown {
  withoutRow(error);
  const advice =
    has(error, 'errcode') && typeof error.errcode === 'number'
      ? SQLITE_ADVICE[error.errcode & 0xff]
      : POSTGRES_ADVICE[codeOf(error) ?? ''];
  if (advice === undefined) return error;
  return new RecordsError(`Records: ${engine.place} cannot be used. ${advice}`, { cause: error });
}
