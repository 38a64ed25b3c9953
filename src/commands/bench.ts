import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { instantOfMs } from '../time/instant.ts';
import { measureAlone } from './bench/alone.ts';
import { startAndRest } from './bench/at-rest.ts';
import { machineNow } from './bench/machine.ts';
import { writePast } from './bench/past.ts';
import { sharedRate } from './bench/shared.ts';
import { measureWaits, rateOn, runBoth } from './bench/side-by-side.ts';
import type { Bench } from './bench/side-by-side.ts';
import { furnish, recordsIn } from './trials/outfit.ts';
import { whyNoServers } from './trials/servers.ts';
import { takingProvider } from './trials/provider-side.ts';

const USAGE = `npm run bench [-- options]
The desk beside a bare handler, in turns, on this machine; loopback only. Prints figures and the goals they are held against.
  --runs N      of each, in turns (10)
  --seconds N   that each measuring takes (4)
  --entries N   in the records of a desk with a past (1000000); 0 leaves that out
  --only NAME   of: both, waits, past, alone, rest, shared
The last needs Postgres and Redis: DATABASE_URL and REDIS_URL, or those of this machine. It makes a database and drops it.`;

const PARTS = ['both', 'waits', 'past', 'alone', 'rest', 'shared'] as const;

const { values } = parseArgs({
  options: {
    runs: { type: 'string', default: '10' },
    seconds: { type: 'string', default: '4' },
    entries: { type: 'string', default: '1000000' },
    only: { type: 'string' },
    help: { type: 'boolean', default: false },
  },
});

/** A whole number as it was given. @throws Error that says what is allowed */
function countOf(name: 'runs' | 'seconds' | 'entries', least: number): number {
  const count = Number(values[name]);
  if (!Number.isInteger(count) || count < least) {
    throw new Error(`--${name} must be a whole number from ${least}; it is "${values[name]}".`);
  }
  return count;
}

function quantile(numbers: readonly number[], part: number): number {
  const sorted = numbers.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))] ?? Number.NaN;
}
const median = (numbers: readonly number[]): number => quantile(numbers, 0.5);
const whole = (number: number): string => Math.round(number).toLocaleString('en-US');
/** The median and the range it lies in. */
const spread = (numbers: readonly number[], digits: number): string =>
  `${median(numbers).toFixed(digits)} (${Math.min(...numbers).toFixed(digits)} to ${Math.max(...numbers).toFixed(digits)})`;

function row(what: string, figure: string, goal: string): void {
  console.log(`| ${what} | ${figure} | ${goal} |`);
}

/** How many of the runs of both are as many of the slower measurings. */
const fewer = (runs: number): number => Math.max(1, Math.round(runs / 3));

async function both(bench: Bench, records: string, runs: number): Promise<void> {
  const ratios = { many: [] as number[], one: [] as number[] };
  const rates = { desk: [] as number[], bare: [] as number[], deskOne: [] as number[], bareOne: [] as number[] };
  for (let run = 0; run < runs; run += 1) {
    const { desk, bare } = await runBoth(bench, records, run);
    ratios.many.push(desk.many.perSecond / bare.many.perSecond);
    ratios.one.push(desk.one.perSecond / bare.one.perSecond);
    rates.desk.push(desk.many.perSecond);
    rates.bare.push(bare.many.perSecond);
    rates.deskOne.push(desk.one.perSecond);
    rates.bareOne.push(bare.one.perSecond);
  }
  const beside = (a: readonly number[], b: readonly number[]): string => `${whole(median(a))} and ${whole(median(b))}`;
  row('texts a second, 64 connections: desk and bare handler', beside(rates.desk, rates.bare), '');
  row('desk over bare handler, 64 connections', spread(ratios.many, 2), '1.0 or more');
  row('texts a second, 1 connection: desk and bare handler', beside(rates.deskOne, rates.bareOne), '');
  row('desk over bare handler, 1 connection', spread(ratios.one, 2), '0.8 or more');
}

async function waits(bench: Bench, records: string, runs: number): Promise<void> {
  const p99s: number[] = [];
  const dangers: number[] = [];
  const worst: number[] = [];
  for (let run = 0; run < fewer(runs); run += 1) {
    const { p99AtHalfMs, dangerMs } = await measureWaits(bench, records);
    p99s.push(p99AtHalfMs);
    dangers.push(median(dangerMs));
    worst.push(quantile(dangerMs, 0.99));
  }
  row('99th percentile of a reply at half the full rate, ms', spread(p99s, 0), '25 or less');
  row('first reply to danger at the full rate, ms: median', spread(dangers, 0), '50 or less');
  row('the same, 99th percentile', spread(worst, 0), '');
}

async function past(bench: Bench, records: string, runs: number, entries: number): Promise<void> {
  const old = join(bench.folder, 'old-records');
  mkdirSync(old);
  await furnish(recordsIn(old), OUTFIT, instantOfMs(Date.now()));
  await writePast(old, entries, instantOfMs(Date.now()));
  const ratios: number[] = [];
  for (let run = 0; run < fewer(runs); run += 1) {
    const first = run % 2 === 0 ? await rateOn(bench, records) : await rateOn(bench, old);
    const second = run % 2 === 0 ? await rateOn(bench, old) : await rateOn(bench, records);
    ratios.push(run % 2 === 0 ? second / first : first / second);
  }
  row(`rate with ${whole(entries)} entries over rate when empty`, spread(ratios, 2), '0.85 or more');
}

function alone(): void {
  const { hearPerSecond, turnPerSecond } = measureAlone();
  row('turn alone, a second, one core', whole(turnPerSecond), '20,000 or more');
  row('hear alone, a second, one core', whole(hearPerSecond), '5,000 or more');
}

async function rest(bench: Bench, records: string, runs: number): Promise<void> {
  const starts = [];
  for (let run = 0; run <= runs; run += 1) starts.push(await startAndRest(bench, records));
  // The first one may have filled the cache of compiled code; nights begin with the others.
  const usual = starts.slice(1);
  row(
    'memory at rest, MB',
    spread(
      usual.map((each) => each.memoryMb),
      0,
    ),
    '150 or less',
  );
  row(
    'start to first answer, s',
    spread(
      usual.map((each) => each.startMs / 1000),
      2,
    ),
    '1.5 or less',
  );
}

async function shared(bench: Bench, runs: number): Promise<void> {
  const missing = await whyNoServers();
  if (missing !== null) {
    row('several processes', `left out: ${missing}`, 'report');
    return;
  }
  const rates: { one: number[]; two: number[] } = { one: [], two: [] };
  for (let run = 0; run < fewer(runs); run += 1) {
    rates.one.push(await sharedRate(bench, 1, OUTFIT));
    rates.two.push(await sharedRate(bench, 2, OUTFIT));
  }
  row(
    'texts a second on Postgres, 64 connections: one web process, two',
    `${whole(median(rates.one))}, ${whole(median(rates.two))}`,
    'report',
  );
}

/** Two phones a stay, as a couple has; more guests than any measuring hears. */
const OUTFIT = { units: 1_500, guests: 3_000 } as const;

async function measure(): Promise<void> {
  const runs = countOf('runs', 1);
  const seconds = countOf('seconds', 1);
  const entries = countOf('entries', 0);
  const { only } = values;
  if (only !== undefined && !PARTS.some((part) => part === only)) {
    throw new Error(`--only must be one of ${PARTS.join(', ')}; it is "${only}".`);
  }
  const wanted = (part: (typeof PARTS)[number]): boolean => only === undefined || only === part;

  const folder = mkdtempSync(join(tmpdir(), 'nightbell-bench-'));
  const carrier = await takingProvider();
  try {
    const bench: Bench = { folder, carrierPort: carrier.port, seconds, warmUpSeconds: Math.max(2, seconds / 2) };
    const records = join(folder, 'records');
    mkdirSync(records);
    await furnish(recordsIn(records), OUTFIT, instantOfMs(Date.now()));
    const { loopMs, flushMs } = machineNow(folder);
    console.log(
      `This machine now: ten million additions ${loopMs.toFixed(1)} ms, a flush to disk ${flushMs.toFixed(2)} ms.`,
    );
    console.log(`Medians of ${runs} runs of ${seconds} s, and the range.\n`);
    console.log('| what | measured | goal |\n|---|---|---|');
    if (wanted('both')) await both(bench, records, runs);
    if (wanted('waits')) await waits(bench, records, runs);
    if (wanted('past') && entries > 0) await past(bench, records, runs, entries);
    if (wanted('alone')) alone();
    if (wanted('rest')) await rest(bench, records, runs);
    if (wanted('shared')) await shared(bench, runs);
    const then = machineNow(folder);
    console.log(`\nThis machine then: ${then.loopMs.toFixed(1)} ms, ${then.flushMs.toFixed(2)} ms.`);
  } finally {
    await carrier.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

if (values.help) console.log(USAGE);
else await measure();
