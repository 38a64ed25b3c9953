import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { parseArgs } from 'node:util';
import type { TableName } from '../desk/told/entries.ts';
import { lookAtImport, takeImport } from '../desk/told/import.ts';
import { TABLE_NAMES } from '../desk/told/look.ts';
import { templateCsv, templateOf } from '../desk/told/template.ts';
import { NO_MAP } from '../desk/told/told.ts';
import type { ToldFile } from '../desk/told/told.ts';
import { openRecordsOf } from '../open-records.ts';
import { ProblemsError } from '../reading/yaml.ts';
import { toldRecordsOn } from '../records/told.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import { instantOfMs } from '../time/instant.ts';
import { readColumnMap } from './import/column-map.ts';
import { sayOutcome } from './import/say-outcome.ts';
import { whoRunsThis } from './who.ts';
import { Refusal, runCommand } from './run-command.ts';

const USAGE = `npm run import -- [--map MAP.yaml] [--apply] FILE...
Reads tables (.csv) of ${TABLE_NAMES.join(', ')} and shows what they would change. With --apply they
are taken over, all in one transaction; with anything wrong, each line is named and nothing is changed.
  --map MAP.yaml   your own headings in place of the templates', and how you write dates
       npm run -s import -- --template rentals > rentals.csv
Prints the headings of a table; what each is for goes to the terminal.`;

function textOf(file: string): string {
  let bytes: Buffer;
  try {
    bytes = readFileSync(file);
  } catch (cause) {
    throw new Refusal(`${file} cannot be read: give the path of a file.\n\n${USAGE}`, { cause });
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (cause) {
    throw new Refusal(`${file} is not UTF-8: save it from your spreadsheet as "CSV UTF-8".`, { cause });
  }
}

function printTemplate(table: string): void {
  const known = TABLE_NAMES.find((name) => name === table);
  if (known === undefined) throw new Refusal(`--template ${table}: allowed are ${TABLE_NAMES.join(', ')}.`);
  const template = templateOf(known satisfies TableName);
  process.stdout.write(templateCsv(template));
  console.error(`${template.table}: ${template.about}. Columns with * must be there and filled.`);
  for (const { heading, about, allowed, example, required } of template.columns) {
    console.error(`${required ? '*' : ' '} ${heading.padEnd(20)} ${about}. Allowed: ${allowed}. As: ${example}`);
  }
}

async function importFiles(files: readonly ToldFile[], mapFile: string | undefined, apply: boolean): Promise<number> {
  const map = mapFile === undefined ? NO_MAP : readColumnMap(basename(mapFile), textOf(mapFile));
  const settings = settingsFrom(process.env);
  const now = instantOfMs(Date.now());
  const records = await openRecordsOf({ settings, now: () => now });
  try {
    const told = toldRecordsOn(records);
    const outcome = apply
      ? await takeImport(told, files, map, { by: whoRunsThis(), at: now })
      : await lookAtImport(told, files, map);
    for (const line of sayOutcome(outcome)) console.log(line);
    if (outcome.problems.length > 0) return 1;
    if (outcome.changes.length === 0) console.log('There is nothing to change.');
    else console.log(apply ? 'Taken over.' : 'Nothing is changed yet: add --apply to take this over.');
    if (apply && settings.carrier === null) {
      console.log('No carrier is set: npm start is the demo, and keeps the demo’s own stays beside these.');
    }
    return 0;
  } finally {
    await records.close();
  }
}

async function run(): Promise<number> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      template: { type: 'string' },
      map: { type: 'string' },
      apply: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.template !== undefined) {
    printTemplate(values.template);
    return 0;
  }
  if (values.help || positionals.length === 0) {
    console.log(USAGE);
    return values.help ? 0 : 1;
  }
  const files = positionals.map((file) => ({ name: basename(file), text: textOf(file) }));
  return importFiles(files, values.map, values.apply);
}

await runCommand(USAGE, [ProblemsError, SettingsError], run);
