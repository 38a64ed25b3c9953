import { parseArgs } from 'node:util';
import { NotForgotten, forget } from '../desk/keeping/forget.ts';
import { openRecordsOf } from '../open-records.ts';
import { phoneOf } from '../reading/phone.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import { instantOfMs } from '../time/instant.ts';
import { whoRunsThis } from './who.ts';
import { Refusal, runCommand } from './run-command.ts';

const USAGE = `npm run forget -- PHONE
Takes a guest's words and number out of the records, and keeps the counts. There is no way back but a backup.
What is older than KEEP_WORDS_DAYS is taken out each night by itself, where that is set.`;

async function run(): Promise<void> {
  const { positionals, values } = parseArgs({ allowPositionals: true, options: { help: { type: 'boolean' } } });
  const [written, ...more] = positionals;
  if (values.help === true) return console.log(USAGE);
  if (written === undefined || more.length > 0) throw new Refusal(USAGE);
  const phone = phoneOf(written);
  if (phone === null) throw new Refusal(`${written} is no phone number; write it as "(970) 555-0101" or +19705550101.`);
  const settings = settingsFrom(process.env);
  const at = instantOfMs(Date.now());
  const records = await openRecordsOf({ settings, now: () => at });
  try {
    const { conversations, entries, callouts } = await forget(records, phone, { by: whoRunsThis(), at });
    console.log(
      `Forgotten: ${conversations} conversations, ${entries} lines, ${callouts} callouts. Their counts stay.`,
    );
    console.log(
      'It is still in backups made before, in exports, in your own tables (an import would bring it back), and',
    );
    console.log('at the phone company. If they had texted STOP, only the phone company knows it now.');
  } finally {
    await records.close();
  }
}

await runCommand(USAGE, [NotForgotten, SettingsError], run);
