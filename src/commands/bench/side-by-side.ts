import { cpSync, mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { startDesk, startProgram } from '../trials/program.ts';
import type { Program } from '../trials/program.ts';
import { load, timeDanger } from './load.ts';
import type { Measured, Numbering } from './load.ts';

/** Where a bench works, and how long it looks. */
export interface Bench {
  readonly folder: string;
  readonly carrierPort: number;
  readonly seconds: number;
  readonly warmUpSeconds: number;
}

const BARE = join(import.meta.dirname, 'bare-handler.ts');
/** Time between two texts in danger while the desk is under full load. */
const DANGER_EACH_MS = 150;

interface Fresh {
  readonly program: Program;
  readonly numbers: Numbering;
  readonly end: () => Promise<void>;
}

/** The desk in a process of its own, on a fresh copy of records, warmed up. It is gone when the measuring is over. */
export async function freshDesk(bench: Bench, records: string): Promise<Fresh> {
  const data = join(bench.folder, 'desk');
  rmSync(data, { recursive: true, force: true });
  cpSync(records, data, { recursive: true });
  const program = await startDesk({ folder: data, carrierPort: bench.carrierPort, log: 'ignore' });
  return warmedUp(bench, program);
}

/** The same for the bare handler. */
export async function freshBare(bench: Bench): Promise<Fresh> {
  const data = join(bench.folder, 'bare');
  rmSync(data, { recursive: true, force: true });
  mkdirSync(data);
  return warmedUp(bench, await startProgram([BARE, join(data, 'bare.sqlite')], {}));
}

async function warmedUp(bench: Bench, program: Program): Promise<Fresh> {
  const numbers: Numbering = { guest: 0, text: 0 };
  await load({ here: program.here, connections: 64, seconds: bench.warmUpSeconds, numbers });
  return { program, numbers, end: () => program.end('SIGKILL') };
}

export interface Pair {
  readonly many: Measured;
  readonly one: Measured;
}

async function measurePair(bench: Bench, { program, numbers }: Fresh): Promise<Pair> {
  const { seconds } = bench;
  return {
    many: await load({ here: program.here, connections: 64, seconds, numbers }),
    one: await load({ here: program.here, connections: 1, seconds, numbers }),
  };
}

/** One run of both, each alone on the machine while it is measured; which comes first changes with the run. */
export async function runBoth(bench: Bench, records: string, run: number): Promise<{ desk: Pair; bare: Pair }> {
  const measure = async (open: () => Promise<Fresh>): Promise<Pair> => {
    const fresh = await open();
    try {
      return await measurePair(bench, fresh);
    } finally {
      await fresh.end();
    }
  };
  const openDesk = (): Promise<Fresh> => freshDesk(bench, records);
  const openBare = (): Promise<Fresh> => freshBare(bench);
  if (run % 2 === 0) return { desk: await measure(openDesk), bare: await measure(openBare) };
  const bare = await measure(openBare);
  return { desk: await measure(openDesk), bare };
}

/** How long replies take: at half of a rate, and to danger while the desk is given all it can take. */
export async function measureWaits(
  bench: Bench,
  records: string,
): Promise<{ fullRate: number; p99AtHalfMs: number; dangerMs: readonly number[] }> {
  const fresh = await freshDesk(bench, records);
  const { program, numbers } = fresh;
  try {
    const all = { here: program.here, connections: 64, seconds: bench.seconds, numbers };
    const full = load(all);
    const dangerMs: number[] = [];
    let over = false;
    const probing = (async () => {
      while (!over) {
        dangerMs.push(await timeDanger(program.here, numbers));
        await new Promise((resolve) => void setTimeout(resolve, DANGER_EACH_MS));
      }
    })();
    const { perSecond: fullRate } = await full;
    over = true;
    await probing;
    const half = await load({ ...all, rate: fullRate / 2 });
    return { fullRate, p99AtHalfMs: half.p99Ms, dangerMs };
  } finally {
    await fresh.end();
  }
}

/** The desk's full rate on some records. */
export async function rateOn(bench: Bench, records: string): Promise<number> {
  const fresh = await freshDesk(bench, records);
  try {
    const { program, numbers } = fresh;
    return (await load({ here: program.here, connections: 64, seconds: bench.seconds, numbers })).perSecond;
  } finally {
    await fresh.end();
  }
}
