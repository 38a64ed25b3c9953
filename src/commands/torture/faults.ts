import { execFile } from 'node:child_process';
import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';
import type { Chance } from '../trials/chance.ts';
import type { Relay } from '../trials/relay.ts';
import type { Company } from './company.ts';
import type { DeskUnderTrial, Place } from './desk-under-trial.ts';
import { odd, well } from './moods.ts';

/** What a fault may lay hands on. */
export interface Stage {
  readonly desk: DeskUnderTrial;
  readonly company: Company;
  readonly chance: Chance;
  /** How often, of kills and the like. */
  readonly times: number;
  /** Before the servers that several processes share; null where there is one process. */
  readonly servers: {
    readonly postgres: Relay;
    readonly redis: Relay;
    readonly emptyRedis: () => Promise<void>;
  } | null;
}

export interface Fault {
  readonly name: string;
  /** Processes of the desk. */
  readonly roles: readonly Place['role'][];
  /** Done while guests write; they write on until it is over. */
  readonly during: (stage: Stage) => Promise<void>;
  /** How many times of a whole torture's are this one's. */
  readonly share: number;
}

const ONE: Fault['roles'] = ['both'];
const SEVERAL: Fault['roles'] = ['web', 'web', 'work', 'work'];

/** How long a process lives before it is killed again: from when it says that it is there. */
const LIFE_MS = { least: 100, spread: 5_000 } as const;

/** Kills one process again and again, and starts it each time. */
async function killAgainAndAgain({ company, chance }: Stage, place: Place, next: () => boolean): Promise<void> {
  while (next()) {
    await pause(LIFE_MS.least + chance.below(LIFE_MS.spread));
    const over = company.disturb(`SIGKILL ${place.role}`);
    await place.end('SIGKILL');
    over();
    await place.start();
  }
}

async function kills(stage: Stage): Promise<void> {
  let left = stage.times;
  const next = (): boolean => {
    left -= 1;
    return left >= 0;
  };
  await Promise.all(stage.desk.places.map((place) => killAgainAndAgain(stage, place, next)));
}

function serversOf({ servers }: Stage): NonNullable<Stage['servers']> {
  if (servers === null) throw new Error('this fault needs the servers that several processes share');
  return servers;
}

async function redisIsEmptied(stage: Stage): Promise<void> {
  for (let time = 0; time < stage.times; time += 1) {
    await pause(100 + stage.chance.below(400));
    const over = stage.company.disturb('Redis emptied');
    await serversOf(stage).emptyRedis();
    over();
  }
}

async function stopAndStart(stage: Stage, what: 'postgres' | 'redis', longestMs: number): Promise<void> {
  const relay = serversOf(stage)[what];
  for (let time = 0; time < stage.times; time += 1) {
    await pause(500 + stage.chance.below(2_500));
    const over = stage.company.disturb(`${what} stopped`);
    await relay.stop();
    await pause(100 + stage.chance.below(longestMs));
    await relay.start();
    over();
  }
}

/** The largest file that a process may write, in bytes: past it a write fails, as on a full disk. */
async function limitFiles(pid: number | null, most: number | 'unlimited'): Promise<void> {
  if (pid !== null) await promisify(execFile)('prlimit', ['--pid', String(pid), `--fsize=${most}:unlimited`]);
}

/** Room for nothing at all, or for a line in the spool but not for the records. */
const FULL_AT: readonly number[] = [0, 16_384];

async function diskIsFull(stage: Stage): Promise<void> {
  const [place] = stage.desk.places;
  for (let time = 0; time < stage.times; time += 1) {
    await pause(500 + stage.chance.below(1_000));
    const over = stage.company.disturb('disk full');
    await limitFiles(place?.pid() ?? null, FULL_AT[time % FULL_AT.length] ?? 0);
    await pause(500 + stage.chance.below(1_500));
    await limitFiles(place?.pid() ?? null, 'unlimited');
    over();
  }
}

async function companyIsOdd({ company, times }: Stage): Promise<void> {
  company.mood = odd;
  await pause(times * 1_000);
  company.mood = well;
}

async function copiesAtOnce({ company, times }: Stage): Promise<void> {
  company.copies = true;
  await pause(times * 1_000);
  company.copies = false;
}

const MINUTE_MS = 60_000;
/** Minutes by which the clock is set: small and large, both ways. */
const JUMPS_MIN: readonly number[] = [5, -5, 61, -61, 7, -90, 24 * 60, -24 * 60];

async function clockJumps({ desk, company, chance, times }: Stage): Promise<void> {
  for (let time = 0; time < times; time += 1) {
    await pause(500 + chance.below(1_500));
    const minutes = chance.pick(JUMPS_MIN) ?? 0;
    const over = company.disturb(`clock ${minutes} min`);
    desk.setClock(desk.aheadMs() + minutes * MINUTE_MS);
    over();
  }
}

/** Kills under an odd company, on servers that come and go. */
async function everything(stage: Stage): Promise<void> {
  stage.company.mood = odd;
  await Promise.all([
    kills(stage),
    stopAndStart({ ...stage, times: Math.ceil(stage.times / 10) }, 'redis', 1_500),
    stopAndStart({ ...stage, times: Math.ceil(stage.times / 10) }, 'postgres', 1_500),
  ]);
  stage.company.mood = well;
}

/** What is tried, in this order. `share` of kills adds up to one. */
export const FAULTS: readonly Fault[] = [
  { name: 'killed, one process', roles: ONE, during: kills, share: 0.2 },
  { name: 'killed, two webs and two workers', roles: SEVERAL, during: kills, share: 0.6 },
  { name: 'killed, with all the rest', roles: SEVERAL, during: everything, share: 0.2 },
  { name: 'Redis emptied', roles: SEVERAL, during: redisIsEmptied, share: 0.1 },
  {
    name: 'Redis stopped and started',
    roles: SEVERAL,
    during: (stage) => stopAndStart(stage, 'redis', 8_000),
    share: 0.01,
  },
  {
    name: 'Postgres stopped and started',
    roles: SEVERAL,
    during: (stage) => stopAndStart(stage, 'postgres', 8_000),
    share: 0.01,
  },
  { name: 'disk full', roles: ONE, during: diskIsFull, share: 0.02 },
  { name: 'carrier slow, refusing, unclear', roles: SEVERAL, during: companyIsOdd, share: 0.06 },
  { name: 'each text five times, to two at once', roles: SEVERAL, during: copiesAtOnce, share: 0.03 },
  { name: 'clock jumps, one process', roles: ONE, during: clockJumps, share: 0.02 },
  { name: 'clock jumps, two webs and two workers', roles: SEVERAL, during: clockJumps, share: 0.02 },
];
