import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { OnWork, OpenRecords, RecordsSettings } from './records/open.ts';
import { openRecords } from './records/open.ts';
import { ensureOwner } from './records/roster-entry.ts';
import { loadScenario } from './records/scenario.ts';
import type { Settings } from './settings.ts';
import type { Instant } from './time/instant.ts';

const DEMO_SCENARIO = join(import.meta.dirname, '../fixtures/demo/scenario.yaml');

/** Where the settings say that the records are. */
export function placeOfRecords({ databaseUrl, dataDir }: Settings): RecordsSettings {
  return databaseUrl === null ? { sqliteFile: join(dataDir, 'nightbell.sqlite') } : { postgresUrl: databaseUrl };
}

/** The records that the settings name, in the demo with its scenario. @throws RecordsError that says what to do */
export async function openRecordsOf(parts: {
  readonly settings: Settings;
  readonly now: () => Instant;
  /** Told of rows of work after the commit that wrote them. */
  readonly onWork?: OnWork;
}): Promise<OpenRecords> {
  const { settings, now, onWork } = parts;
  mkdirSync(settings.dataDir, { recursive: true, mode: 0o700 });
  const records = await openRecords(placeOfRecords(settings), onWork);
  if (settings.carrier !== null) {
    await ensureOwner(records, settings);
    return records;
  }
  const scenario = { name: 'fixtures/demo/scenario.yaml', text: readFileSync(DEMO_SCENARIO, 'utf8') };
  await loadScenario(records, scenario, now());
  return records;
}
