import { parseArgs } from 'node:util';
import { loadBook } from '../flow/load.ts';
import { instantOf } from '../time/instant.ts';
import { loadHearing } from '../words/load.ts';
import { openDemoDesk } from './demo-desk.ts';
import { servePages } from './demo-pages.ts';
import { fillNights } from './page-times/many-nights.ts';

const USAGE = `npm run page-times [-- options]
How long each page takes with many conversations in the records against few; medians, in turns, on this machine.
  --few N      conversations (1000)
  --many N     (100000)
  --a-night N  how many a night (60: more than one sheet shows, with few and with many)
  --rounds N   of each (15)
Exit code 1 when a page takes more than 1.5 times as long.`;

/** At most so many times as long. */
const GOAL = 1.5;
const NOW = instantOf('2026-11-25T05:00:00-07:00');
const NIGHTS_AGO = '2026-11-20';

/** What is asked for. In braces, a link that another page shows first. */
const PAGES: Readonly<Record<string, string>> = {
  'the night': '/night',
  'the night, looking for news': '/night/live',
  'a night of last week': `/night?night=${NIGHTS_AGO}`,
  'the night, one matter': '/night?matter=power',
  'a fortnight, danger only': '/night?from=2026-11-12&to=2026-11-24&ending=emergency',
  'a fortnight, words nobody said': '/night?from=2026-11-12&to=2026-11-24&words=walrus',
  'a call sheet': '{/night: /night/\\d[^"]*}',
  'own callouts': '/callouts',
  'the numbers': '/numbers',
  'what a fortnight has taught': '/learned?days=14',
  'the flows': '/flows',
  places: '/places',
  rentals: '/rentals',
  people: '/people',
  'one flow': '/flows/power',
  'the demo’s phones': '/demo',
};

interface House {
  readonly ask: (path: string) => Promise<{ readonly status: number; readonly body: string }>;
  readonly close: () => Promise<void>;
}

/** A desk with so many conversations behind it, and a browser in which the owner is signed in. */
async function furnished(conversations: number, aNight: number): Promise<House> {
  const demo = await openDemoDesk({ hear: loadHearing(), book: loadBook().book, startsAt: NOW });
  const { desk, records } = demo;
  const says: readonly (readonly [string, readonly string[]])[] = [
    ['+19705550101', ["it won't stop beeping", 'one long tone', 'moved it to the other wall, one short beep now']],
    ['+19705550107', ['the botle lid is on croked and wont screw down strait', 'yes bubbles now']],
    ['+19705550102', ['my husbands lips are blue and hes breathing funny']],
    ['+19705550103', ['what should it be set to?']],
  ];
  for (const [from, words] of says) {
    for (const text of words) {
      await desk.receive({ id: `SM-${from}-${text.length}`, from, to: '+19705550100', text, media: [] });
      await demo.doDue();
    }
  }
  await fillNights(records, { conversations, aNight, until: NOW });
  const pages = await servePages(demo);
  const { name, value } = pages.ownersCookie;
  return {
    async ask(path) {
      const response = await fetch(pages.here + path, { headers: { cookie: `${name}=${value}` }, redirect: 'manual' });
      return { status: response.status, body: await response.text() };
    },
    async close() {
      await pages.close();
      await demo.close();
    },
  };
}

/** The address of a page: itself, or the first link of its kind on another. */
async function addressOf({ ask }: House, written: string): Promise<string> {
  const [, from, link] = /^\{(\S+): (.*)\}$/.exec(written) ?? [];
  if (from === undefined || link === undefined) return written;
  const found = new RegExp(`href="(${link})"`).exec((await ask(from)).body)?.[1];
  if (found === undefined) throw new Error(`${from} shows no link such as ${link}.`);
  return found.replaceAll('&amp;', '&');
}

async function timeOf({ ask }: House, path: string): Promise<number> {
  const begun = performance.now();
  const { status } = await ask(path);
  if (status !== 200) throw new Error(`${path} answered ${status}.`);
  return performance.now() - begun;
}

function median(numbers: readonly number[]): number {
  const sorted = numbers.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

async function compare(counts: { few: number; many: number; aNight: number; rounds: number }): Promise<void> {
  const few = await furnished(counts.few, counts.aNight);
  const many = await furnished(counts.many, counts.aNight);
  try {
    console.log(`| page | ${counts.few} conversations | ${counts.many} | times |\n|---|---|---|---|`);
    for (const [name, written] of Object.entries(PAGES)) {
      const houses = [few, many] as const;
      const paths = [await addressOf(few, written), await addressOf(many, written)] as const;
      const took: readonly [number[], number[]] = [[], []];
      for (let round = -2; round < counts.rounds; round += 1) {
        for (const index of [0, 1] as const) {
          const time = await timeOf(houses[index], paths[index]);
          if (round >= 0) took[index].push(time); // the first ones compile statements and draw charts
        }
      }
      const [less, more] = [median(took[0]), median(took[1])];
      const times = more / less;
      if (times > GOAL) process.exitCode = 1;
      console.log(`| ${name} | ${less.toFixed(1)} ms | ${more.toFixed(1)} ms | ${times.toFixed(2)} |`);
    }
  } finally {
    await few.close();
    await many.close();
  }
}

const { values } = parseArgs({
  options: {
    few: { type: 'string', default: '1000' },
    many: { type: 'string', default: '100000' },
    'a-night': { type: 'string', default: '60' },
    rounds: { type: 'string', default: '15' },
    help: { type: 'boolean' },
  },
});
const counts = {
  few: Number(values.few),
  many: Number(values.many),
  aNight: Number(values['a-night']),
  rounds: Number(values.rounds),
};
if (values.help === true || !Object.values(counts).every((count) => Number.isInteger(count) && count > 0)) {
  console.log(USAGE);
  process.exitCode = values.help === true ? 0 : 1;
} else {
  await compare(counts);
}
