import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { openRecordsOf } from '../open-records.ts';
import { enterRoster } from '../records/roster-entry.ts';
import { ProblemsError } from '../reading/yaml.ts';
import { rosterNews } from '../roster/news.ts';
import { whoIsOnCall } from '../roster/on-call.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import { instantOfMs } from '../time/instant.ts';
import { readRoster } from './roster-file/read-roster.ts';
import { Refusal, runCommand } from './run-command.ts';

const USAGE = `npm run roster -- [FILE]
Takes over a roster from a YAML file or a table (.csv); without a file, shows who is on call.
Everything is checked first: with anything wrong, each line is named and nothing is changed.`;

function textOf(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (cause) {
    throw new Refusal(`${file} cannot be read: give the path of a roster file.\n\n${USAGE}`, { cause });
  }
}

async function enter(words: readonly string[]): Promise<void> {
  const [file, ...more] = words;
  if (more.length > 0 || file?.startsWith('-') === true) throw new Refusal(USAGE);
  const draft = file === undefined ? null : readRoster(basename(file), textOf(file));
  const settings = settingsFrom(process.env);
  const now = instantOfMs(Date.now());
  const records = await openRecordsOf({ settings, now: () => now });
  try {
    if (draft !== null) await enterRoster(records, draft);
    const roster = await records.read((tx) => tx.roster());
    if (draft !== null) {
      const { people, shifts, holidays } = draft;
      console.log(`Taken over: ${people.length} people, ${shifts.length} shifts, ${holidays.length} holidays.`);
    }
    const names = whoIsOnCall(roster, now).map((person) => person.name);
    console.log(`On call now: ${names.join(', then ')}.`);
    for (const line of rosterNews(roster, now)) console.log(line);
    if (settings.carrier === null && draft !== null) {
      console.log('No carrier is set: npm start is the demo, and loads the demo’s own roster again.');
    }
  } finally {
    await records.close();
  }
}

await runCommand(USAGE, [ProblemsError, SettingsError], () => enter(process.argv.slice(2)));
