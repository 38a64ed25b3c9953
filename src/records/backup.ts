import {
  chmodSync,
  closeSync,
  constants,
  copyFileSync,
  existsSync,
  fsyncSync,
  openSync,
  renameSync,
  rmSync,
} from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import { RecordsError } from './errors.ts';
import { inFile, mustBeWhole, openAlone } from './sqlite-file.ts';

/** What a backup holds, for whoever wants to know whether it is the right one. */
export interface BackupContents {
  readonly conversations: number;
  readonly entries: number;
  readonly rentals: number;
  readonly openCallouts: number;
  readonly undoneWork: number;
}

/** Makes sure that a file and its name are on the disk itself. */
function syncFile(file: string): void {
  for (const path of [file, dirname(file)]) {
    const handle = openSync(path, 'r');
    try {
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
  }
}

function countIn(database: DatabaseSync, table: string, where = '1 = 1'): number {
  return Number(database.prepare(`select count(*) as count from ${table} where ${where}`).get()?.['count']);
}

/**
 * Looks whether a file is whole and of this program, page by page.
 * @throws RecordsError that says what is wrong with it
 */
export function checkBackup(file: string): BackupContents {
  if (!existsSync(file)) throw new RecordsError(`Records: there is no file ${file}. Give the path of a backup.`);
  try {
    return inFile(file, true, (database) => {
      mustBeWhole(database);
      return {
        conversations: countIn(database, 'conversations'),
        entries: countIn(database, 'entries'),
        rentals: countIn(database, 'rentals'),
        openCallouts: countIn(database, 'callouts', "status <> 'done'"),
        undoneWork: countIn(database, 'work', 'done_at is null'),
      };
    });
  } catch (cause) {
    const what = cause instanceof Error ? cause.message : String(cause);
    throw new RecordsError(`Records: ${file} is no whole backup of Nightbell (${what}). Use another one.`, { cause });
  }
}

/**
 * Copies the records of a desk that runs into a new file: one state of them, as it is between two texts. What was deleted is
 * not in it. The file appears under its name only when it is whole, checked and on the disk.
 * @throws RecordsError when the records or the place for the copy cannot be used
 */
export function backUp(sqliteFile: string, to: string): BackupContents {
  const target = resolve(to);
  if (existsSync(target)) throw new RecordsError(`Records: ${target} is there already. Give another name.`);
  if (!existsSync(sqliteFile))
    throw new RecordsError(`Records: there is no file ${sqliteFile} to back up. See DATA_DIR.`);
  const unfinished = `${target}.unfinished`;
  rmSync(unfinished, { force: true });
  try {
    inFile(sqliteFile, true, (database) => database.prepare('vacuum into ?').run(unfinished));
    // For its owner alone, wherever it is put: it holds guests' words and numbers.
    chmodSync(unfinished, 0o600);
    syncFile(unfinished);
    const contents = checkBackup(unfinished);
    renameSync(unfinished, target);
    syncFile(target);
    return contents;
  } catch (error) {
    rmSync(unfinished, { force: true });
    throw error;
  }
}

/**
 * Puts a backup in the place of the records of a desk that is stopped. What was there is kept beside it, under the name that
 * is returned; null where nothing was.
 * @throws RecordsError when the backup is not whole or the records are in use; then nothing is changed
 */
export function restore(backup: string, sqliteFile: string, suffix: string): string | null {
  checkBackup(backup);
  const file = resolve(sqliteFile);
  const next = `${file}.next`;
  copyFileSync(backup, next, constants.COPYFILE_FICLONE);
  syncFile(next);
  checkBackup(next);
  let kept: string | null = null;
  if (existsSync(file)) {
    openAlone(file, 'restore').close();
    kept = `${file}.before-${suffix}`;
    renameSync(file, kept);
  }
  for (const log of [`${file}-wal`, `${file}-shm`]) rmSync(log, { force: true });
  renameSync(next, file);
  syncFile(file);
  return kept;
}
