import { existsSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { RecordsError } from './errors.ts';

/** Waited for a writer to end its transaction, in milliseconds. */
const BUSY_TIMEOUT_MS = 5000;
/** Waited for a desk that has the file open, in milliseconds: a desk does not let go of it, so not for long. */
const IN_USE_TIMEOUT_MS = 500;

/** Uses a file of records beside the desk, and closes it again. */
export function inFile<T>(file: string, readOnly: boolean, use: (database: DatabaseSync) => T): T {
  const database = new DatabaseSync(file, { readOnly, timeout: BUSY_TIMEOUT_MS });
  try {
    return use(database);
  } finally {
    database.close();
  }
}

/** Looks at every page, and whether each row that another names is there. @throws Error that says what is not whole */
export function mustBeWhole(database: DatabaseSync): void {
  const [whole] = database.prepare('pragma integrity_check').all();
  if (whole?.['integrity_check'] !== 'ok') throw new Error(String(whole?.['integrity_check']));
  const [astray] = database.prepare('pragma foreign_key_check').all();
  if (astray !== undefined) throw new Error(`a row of ${String(astray['table'])} names another that is not there`);
}

/**
 * Takes the file for itself, its log written into it. Until it is closed, no desk can read or write it, nor start on it.
 *
 * @param toDo what to do once the desk is stopped: "restore"
 * @throws RecordsError where there is no such file, or while a desk has it open; then nothing is changed
 */
export function openAlone(file: string, toDo: string): DatabaseSync {
  if (!existsSync(file)) throw new RecordsError(`Records: there is no file ${file} to ${toDo}. See DATA_DIR.`);
  const database = new DatabaseSync(file, { timeout: IN_USE_TIMEOUT_MS });
  try {
    // Only the one connection that is left may leave the write-ahead log; and it does not let go of the file again.
    database.exec('pragma locking_mode = exclusive');
    const mode = database.prepare('pragma journal_mode = delete').get()?.['journal_mode'];
    if (mode !== 'delete') throw new Error('it is in use');
    // Where the log had been left before, nothing has been locked yet.
    database.exec('begin exclusive');
    return database;
  } catch (cause) {
    database.close();
    throw new RecordsError(
      `Records: ${file} is in use or cannot be read. Stop the desk first, then ${toDo}; nothing is changed.`,
      { cause },
    );
  }
}
