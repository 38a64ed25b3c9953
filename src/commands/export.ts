import { parseArgs } from 'node:util';
import { openRecordsOf } from '../open-records.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import { instantOfMs } from '../time/instant.ts';
import { markedMessages } from './export/marked.ts';

const USAGE = `npm run -s export -- --marked > marked.jsonl
Writes the lines marked as heard wrong as labelled messages, one JSON object a line, in the format of fixtures/messages/.
Phone numbers and the names of everyone on record are taken out; a name that is not on record stays, so read them first.`;

async function exportMarked(): Promise<void> {
  const settings = settingsFrom(process.env);
  const records = await openRecordsOf({ settings, now: () => instantOfMs(Date.now()) });
  try {
    process.stdout.write(await markedMessages(records));
  } finally {
    await records.close();
  }
}

try {
  const { values } = parseArgs({ options: { marked: { type: 'boolean' } } });
  if (values.marked === true) await exportMarked();
  else console.log(USAGE);
} catch (error) {
  const isUsage = (error as NodeJS.ErrnoException).code?.startsWith('ERR_PARSE_ARGS') === true;
  if (!isUsage && !(error instanceof SettingsError)) throw error;
  console.error(isUsage ? USAGE : (error as Error).message);
  process.exitCode = 1;
}
