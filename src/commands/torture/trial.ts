import { mkdirSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
import { nationalForm } from '../../carrier/phone.ts';
import { openRecords } from '../../records/open.ts';
import type { OpenRecords, RecordsSettings } from '../../records/open.ts';
import { instantOfMs } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { chanceFrom } from '../trials/chance.ts';
import { PEOPLE, furnish, recordsIn } from '../trials/outfit.ts';
import { openRelay } from '../trials/relay.ts';
import { sharedPlace } from '../trials/servers.ts';
import type { Company } from './company.ts';
import { openCompany } from './company.ts';
import type { CompanyLog } from './company-log.ts';
import { deskUnderTrial } from './desk-under-trial.ts';
import type { DeskUnderTrial } from './desk-under-trial.ts';
import type { Fault, Stage } from './faults.ts';
import type { Broken } from './guarantees/broken.ts';
import { brokenIn } from './judge.ts';
import { guestsWrite, techniciansAnswer } from './people.ts';
import { readSeen } from './seen.ts';
import type { Seen } from './seen.ts';

export interface Trial {
  readonly log: CompanyLog;
  readonly seen: Seen;
  readonly broken: readonly Broken[];
}

const OUTFIT = { units: 300, guests: 1_500 } as const;
const GUESTS_AT_ONCE = 8;
/** As the desk writes it in texts. */
export const DIRECT_NUMBER = nationalForm(PEOPLE.first);

/** How the night goes on when all is over, in steps, until every wait of a callout for tonight has passed. */
const THEN_PASS_MS = [70, 200, 1_900, 3_600].map((seconds) => seconds * 1000);
const SETTLES_WITHIN_MS = 60_000;
const LOOK_EACH_MS = 300;

/** Where a trial's records are, and what its processes are told of it. */
interface Ground {
  readonly records: RecordsSettings;
  readonly environment: Readonly<Record<string, string>>;
  readonly servers: Stage['servers'];
  readonly remove: () => Promise<void>;
}

async function groundOf(fault: Fault, folder: string): Promise<Ground> {
  if (fault.roles.includes('both')) {
    return { records: recordsIn(folder), environment: {}, servers: null, remove: () => Promise.resolve() };
  }
  const place = await sharedPlace('torture');
  const before = async (url: string, port: number) => {
    const { hostname, port: theirs } = new URL(url);
    return openRelay(hostname, Number(theirs === '' ? port : theirs));
  };
  const through = (url: string, port: number): string =>
    Object.assign(new URL(url), { host: `127.0.0.1:${port}` }).href;
  const [postgresUrl, redisUrl] = [place.environment['DATABASE_URL'] ?? '', place.environment['REDIS_URL'] ?? ''];
  const [postgres, redis] = [await before(postgresUrl, 5432), await before(redisUrl, 6379)];
  return {
    records: { postgresUrl: place.postgresUrl },
    environment: {
      ...place.environment,
      DATABASE_URL: through(postgresUrl, postgres.port),
      REDIS_URL: through(redisUrl, redis.port),
    },
    servers: { postgres, redis, emptyRedis: place.emptyRedis },
    async remove() {
      await Promise.all([postgres.stop(), redis.stop()]);
      await place.remove();
    },
  };
}

/** Whether nothing waits that could be done at that instant. */
async function isQuiet(records: OpenRecords, now: Instant): Promise<boolean> {
  return (
    (
      await records.viewTables(({ db }) =>
        db.selectFrom('work').select('id').where('done_at', 'is', null).where('free_at', '<=', now).limit(1).execute(),
      )
    ).length === 0
  );
}

/** Lets the night go on, hour by hour, until nothing of it is due any more. Gives the instant at which it was looked. */
async function nightGoesOn(records: OpenRecords, desk: DeskUnderTrial, company: Company): Promise<Instant> {
  let now = instantOfMs(Date.now() + desk.aheadMs());
  for (const [step, passMs] of THEN_PASS_MS.entries()) {
    // What is in hand at that moment outlives its lease, and may be sent by another worker as well.
    const passed = company.disturb('night passing');
    desk.setClock(desk.aheadMs() + passMs);
    passed();
    // Someone writes, so that a process that sleeps until an instant looks at its clock.
    await company.bring({
      from: `+1000900${String(step).padStart(4, '0')}`,
      who: 'guest',
      danger: false,
      words: 'thanks',
    });
    const until = performance.now() + SETTLES_WITHIN_MS;
    for (let quiet = 0; quiet < 2 && performance.now() < until;) {
      await pause(LOOK_EACH_MS);
      now = instantOfMs(Date.now() + desk.aheadMs());
      quiet = (await isQuiet(records, now)) ? quiet + 1 : 0;
    }
    await company.quiet();
  }
  return now;
}

/**
 * One trial: a desk of real processes under load, the fault, then a night that goes on until nothing is due, and what the
 * phone company saw beside what the records hold.
 */
export async function runTrial(fault: Fault, times: number, seed: number, folder: string): Promise<Trial> {
  mkdirSync(folder, { recursive: true });
  const ground = await groundOf(fault, folder);
  const chance = chanceFrom(seed);
  const began = performance.now();
  let company: Company | null = null;
  const desk = await deskUnderTrial(fault.roles, folder, ground.environment, () => company?.port ?? 0);
  try {
    await furnish(ground.records, OUTFIT, instantOfMs(Date.now()));
    company = await openCompany(desk.webs, chance, () => performance.now() - began);
    techniciansAnswer(company, chance);
    await desk.startAll();
    let over = false;
    const writing = guestsWrite(company, chance, GUESTS_AT_ONCE, () => over);
    try {
      await fault.during({ desk, company, chance, times, servers: ground.servers });
    } finally {
      over = true;
    }
    await writing;
    await company.quiet();
    // What could not be kept at the time is taken from the spool at a start.
    const ending = company.disturb('stopped and started');
    await desk.endAll('SIGTERM');
    await desk.startAll();
    ending();
    const records = await openRecords(ground.records);
    try {
      const now = await nightGoesOn(records, desk, company);
      const seen = await readSeen(records, now);
      const { log } = company;
      return { log, seen, broken: brokenIn(log, seen, DIRECT_NUMBER) };
    } finally {
      await records.close();
    }
  } finally {
    await desk.endAll('SIGKILL');
    await company?.close();
    await ground.remove();
  }
}
