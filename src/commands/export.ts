import { once } from 'node:events';
import { parseArgs } from 'node:util';
import { spanOf } from '../desk/keeping/export.ts';
import type { KeepingNote } from '../desk/keeping/note.ts';
import { openRecordsOf } from '../open-records.ts';
import { csvRows } from '../pages/csv.ts';
import { conversationsIn } from '../records/export.ts';
import { addKeepingNote, keepingNotes } from '../records/keeping-notes.ts';
import type { OpenRecords } from '../records/open.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import type { Settings } from '../settings.ts';
import { isDay } from '../time/calendar.ts';
import { instantOfMs } from '../time/instant.ts';
import { CSV_HEAD, csvLines, jsonLine } from './export/conversations.ts';
import { markedMessages } from './export/marked.ts';
import { whoRunsThis } from './who.ts';
import { Refusal, runCommand } from './run-command.ts';

const USAGE = `npm run -s export -- --from DAY --to DAY [--as jsonl|csv] > FILE
Writes the conversations that were opened on these days (2026-11-01, whole days in the outfit's zone): as JSON Lines, a
conversation a line, or as CSV, a row for each thing that was said. It holds guests' words and numbers: keep it accordingly.
       npm run -s export -- --notes
What was imported, exported, forgotten, backed up, restored and moved, when and by whom.
       npm run -s export -- --marked > marked.jsonl
Writes the lines marked as heard wrong as labelled messages, one JSON object a line, in the format of fixtures/messages/.
Phone numbers and the names of everyone on record are taken out; a name that is not on record stays, so read them first.`;

async function write(words: string): Promise<void> {
  if (!process.stdout.write(words)) await once(process.stdout, 'drain');
}

function dayOption(option: string, written: string | undefined): string {
  if (written === undefined)
    throw new Refusal(`${option} is missing; give a day, as ${option} 2026-11-01.\n\n${USAGE}`);
  if (!isDay(written)) throw new Refusal(`${option} ${written}: give a day that the calendar has, as 2026-11-01.`);
  return written;
}

interface Wanted {
  readonly from: string;
  readonly to: string;
  readonly as: 'jsonl' | 'csv';
}

function wantedOf(values: { readonly from?: string; readonly to?: string; readonly as: string }): Wanted {
  const wanted = { from: dayOption('--from', values.from), to: dayOption('--to', values.to) };
  if (wanted.to < wanted.from)
    throw new Refusal(`--to ${wanted.to} is before --from ${wanted.from}; exchange the two.`);
  const { as } = values;
  if (as !== 'jsonl' && as !== 'csv') throw new Refusal(`--as ${as}: allowed are jsonl and csv.`);
  return { ...wanted, as };
}

async function exportConversations(records: OpenRecords, settings: Settings, { from, to, as }: Wanted): Promise<void> {
  // Before the first line: what left the records and was not noted could not be found again.
  const note: KeepingNote = {
    at: instantOfMs(Date.now()),
    by: whoRunsThis(),
    what: 'export',
    details: { from, to, as },
  };
  await records.onTables((handle) => addKeepingNote(handle, note));
  if (as === 'csv') await write(csvRows([CSV_HEAD]));
  let count = 0;
  for await (const told of conversationsIn(records, spanOf(from, to, settings.outfitZone))) {
    await write(as === 'csv' ? csvLines(told) : jsonLine(told));
    count += 1;
  }
  console.error(`${count} conversation${count === 1 ? '' : 's'} of ${from} to ${to}.`);
}

async function printNotes(records: OpenRecords): Promise<void> {
  for (const { at, by, what, details } of await records.viewTables(keepingNotes)) {
    const said = Object.entries(details).map(([name, value]) => `${name} ${value}`);
    await write(`${at}  ${what.padEnd(9)}  by ${by}: ${said.join(', ')}\n`);
  }
}

async function run(): Promise<void> {
  const { values } = parseArgs({
    options: {
      from: { type: 'string' },
      to: { type: 'string' },
      as: { type: 'string', default: 'jsonl' },
      marked: { type: 'boolean', default: false },
      notes: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help || (values.from === undefined && values.to === undefined && !values.marked && !values.notes)) {
    console.log(USAGE);
    return;
  }
  const wanted = values.marked || values.notes ? null : wantedOf(values);
  const settings = settingsFrom(process.env);
  const records = await openRecordsOf({ settings, now: () => instantOfMs(Date.now()) });
  try {
    if (wanted !== null) await exportConversations(records, settings, wanted);
    else if (values.notes) await printNotes(records);
    else await write(await markedMessages(records));
  } finally {
    await records.close();
  }
}

await runCommand(USAGE, [SettingsError], run);
