import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { placeOfRecords } from '../open-records.ts';
import { backUp, checkBackup, restore } from '../records/backup.ts';
import { RecordsError } from '../records/errors.ts';
import type { BackupContents } from '../records/backup.ts';
import { addKeepingNote } from '../records/keeping-notes.ts';
import { openRecords } from '../records/open.ts';
import type { KeepingDeed } from '../desk/keeping/note.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import { instantOfMs } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import { whoRunsThis } from './who.ts';
import { Refusal, runCommand } from './run-command.ts';

const USAGE = `npm run backup -- [FILE]
Copies the records of the desk, running or not, into FILE, checked and on the disk when it is there; without FILE into
DATA_DIR. It holds guests' words and numbers: keep it accordingly.
       npm run backup -- --check FILE
Says whether a backup is whole, and what is in it.
       npm run backup -- --restore FILE
Puts a backup in place of the records. The desk must be stopped. What was there is kept beside them.`;

function sqliteFileOf(): string {
  const place = placeOfRecords(settingsFrom(process.env));
  if ('sqliteFile' in place) return place.sqliteFile;
  throw new Refusal(
    'The records are in Postgres (DATABASE_URL): back them up with its own pg_dump and restore them with pg_restore.',
  );
}

function said({ conversations, entries, rentals, openCallouts, undoneWork }: BackupContents): string {
  return `${conversations} conversations, ${entries} lines, ${rentals} rentals, ${openCallouts} open callouts, ${undoneWork} things due`;
}

async function note(
  sqliteFile: string,
  what: KeepingDeed,
  at: Instant,
  details: Record<string, string>,
): Promise<void> {
  const records = await openRecords({ sqliteFile });
  try {
    await records.onTables((handle) => addKeepingNote(handle, { at, by: whoRunsThis(), what, details }));
  } finally {
    await records.close();
  }
}

const inNames = (at: Instant): string => at.slice(0, 19).replaceAll(':', '-');

async function backUpRecords(file: string | undefined): Promise<void> {
  const sqliteFile = sqliteFileOf();
  const at = instantOfMs(Date.now());
  const to = file ?? join(settingsFrom(process.env).dataDir, `backup-${inNames(at)}.sqlite`);
  // Before the copy, so that the copy says when it was made.
  await note(sqliteFile, 'backup', at, { file: to });
  console.log(`${to}: ${said(backUp(sqliteFile, to))}.`);
}

async function restoreRecords(backup: string): Promise<void> {
  const sqliteFile = sqliteFileOf();
  const at = instantOfMs(Date.now());
  const contents = checkBackup(backup);
  const kept = restore(backup, sqliteFile, inNames(at));
  await note(sqliteFile, 'restore', at, { file: backup });
  console.log(`Restored: ${said(contents)}.`);
  if (kept !== null) console.log(`What was there before is kept as ${kept}.`);
  if (contents.openCallouts + contents.undoneWork > 0) {
    console.log('What was due when the backup was made is due again: open callouts will ring when the desk starts.');
  }
}

async function run(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { check: { type: 'string' }, restore: { type: 'string' }, help: { type: 'boolean' } },
  });
  if (values.help === true) return console.log(USAGE);
  if (positionals.length > 1 || (values.check !== undefined && values.restore !== undefined)) throw new Refusal(USAGE);
  if (values.check !== undefined) return console.log(`${values.check} is whole: ${said(checkBackup(values.check))}.`);
  if (values.restore !== undefined) return restoreRecords(values.restore);
  return backUpRecords(positionals[0]);
}

await runCommand(USAGE, [RecordsError, SettingsError], run);
