import { parseArgs } from 'node:util';
import { MOST_DAYS, USUAL_DAYS, ownerLists } from '../desk/lists/lists.ts';
import type { OwnerLists } from '../desk/lists/lists.ts';
import type { FlowBook } from '../flow/book.ts';
import { loadBook } from '../flow/load.ts';
import { openRecordsOf } from '../open-records.ts';
import { listRecordsOn } from '../records/list-records.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import { dayIn, isDay } from '../time/calendar.ts';
import { instantOfMs } from '../time/instant.ts';
import {
  costsInWords,
  deliveriesInWords,
  failingInWords,
  hardStepsInWords,
  notUnderstoodInWords,
  outletsInWords,
} from './lists/words.ts';
import { Refusal, runCommand } from './run-command.ts';

const NAMES = ['failing', 'outlets', 'words', 'steps', 'deliveries', 'cost'] as const;
type Name = (typeof NAMES)[number];

const USAGE = `npm run lists -- [LIST...] [--days 90] [--day 2026-11-25] [--json]
What the desk has learned. LIST is one or more of
  failing     units and rooms that fail too often, and the weeks
  outlets     which outlets of which rooms work
  words       what guests said that was not understood
  steps       where guests give up or are not understood
  deliveries  the units to bring on a day, and what is known of the rooms
  cost        text parts by matter; TEXT_PART_CENTS is what the carrier takes for one
all of them without a name.
  --days  how far back to look, 1 to ${MOST_DAYS} (${USUAL_DAYS})
  --day   the day of the deliveries (today)
  --json  one JSON object, for other programs`;

interface Asked {
  readonly names: readonly Name[];
  readonly days: number;
  readonly day: string | null;
  readonly json: boolean;
}

function isName(word: string): word is Name {
  return (NAMES as readonly string[]).includes(word);
}

function asked(words: readonly string[]): Asked | 'help' {
  const options = {
    days: { type: 'string' },
    day: { type: 'string' },
    json: { type: 'boolean' },
    help: { type: 'boolean' },
  } as const;
  const { values, positionals } = parseArgs({ args: [...words], options, allowPositionals: true });
  if (values.help === true) return 'help';
  const wrong = positionals.filter((word) => !isName(word));
  if (wrong.length > 0) throw new Refusal(`There is no list "${wrong.join('", "')}".\n\n${USAGE}`);
  const days = Number(values.days ?? USUAL_DAYS);
  if (!Number.isInteger(days) || days < 1 || days > MOST_DAYS) {
    throw new Refusal(`--days ${values.days}: must be a whole number from 1 to ${MOST_DAYS}.`);
  }
  if (values.day !== undefined && !isDay(values.day)) {
    throw new Refusal(`--day ${values.day}: must be a day of the calendar; write it as 2026-11-25.`);
  }
  const names = positionals.filter(isName);
  return { names: names.length === 0 ? NAMES : names, days, day: values.day ?? null, json: values.json === true };
}

/** One list: its value, and its lines. */
async function list(name: Name, { days, day }: { days: number; day: string }, lists: OwnerLists, book: FlowBook) {
  switch (name) {
    case 'failing': {
      const value = await lists.failing(days);
      return { value, lines: failingInWords(value) };
    }
    case 'outlets': {
      const value = await lists.outlets();
      return { value, lines: outletsInWords(value, book) };
    }
    case 'words': {
      const value = await lists.notUnderstood(days);
      return { value, lines: notUnderstoodInWords(value) };
    }
    case 'steps': {
      const value = await lists.hardSteps(days);
      return { value, lines: hardStepsInWords(value) };
    }
    case 'deliveries': {
      const value = await lists.deliveries(day);
      return { value, lines: deliveriesInWords(day, value, book) };
    }
    case 'cost': {
      const value = await lists.costs(days);
      return { value, lines: costsInWords(value) };
    }
    default:
      return name satisfies never;
  }
}

async function show({ names, days, day, json }: Asked): Promise<void> {
  const settings = settingsFrom(process.env);
  const now = instantOfMs(Date.now());
  const { book } = loadBook();
  const records = await openRecordsOf({ settings, now: () => now });
  try {
    const { outfitZone: zone, textPartCents: centsAPart } = settings;
    const lists = ownerLists({ lists: listRecordsOn(records), records, book, zone, centsAPart, now });
    const values: Partial<Record<Name, unknown>> = {};
    for (const [index, name] of names.entries()) {
      const { value, lines } = await list(name, { days, day: day ?? dayIn(zone, now) }, lists, book);
      values[name] = value;
      if (!json) console.log(`${index === 0 ? '' : '\n'}${lines.join('\n')}`);
    }
    if (json) console.log(JSON.stringify(values));
  } finally {
    await records.close();
  }
}

await runCommand(USAGE, [SettingsError], async () => {
  const read = asked(process.argv.slice(2));
  if (read === 'help') console.log(USAGE);
  else await show(read);
});
