import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { DESK_NUMBER, PEOPLE } from './outfit.ts';

/** A server in a process of its own. */
export interface Program {
  /** Where it listens: "http://127.0.0.1:40123". */
  readonly here: string;
  readonly pid: number;
  /** Resident memory now, in MB. */
  readonly memoryMb: () => number;
  /** Processor time it has used so far, over all its threads, in ms. */
  readonly processorMs: () => number;
  /** Ends it and waits until it is gone. */
  readonly end: (signal: NodeJS.Signals) => Promise<void>;
}

/** What the carrier of a trial signs with, and under which address. */
export const SIGNED_UNDER = { token: 'a'.repeat(32), publicUrl: 'https://desk.example.com' } as const;

const MAIN = join(import.meta.dirname, '../../main.mjs');
/** A young generation of 2 MB costs no texts a second here and saves forty megabytes. */
const AS_NPM_START = ['--max-semi-space-size=2'] as const;
const REROUTE = join(import.meta.dirname, 'reroute.ts');

/** What runs must not outlive the trial, however that ends. */
const running = new Set<ChildProcess>();
process.once('exit', () => {
  for (const child of running) child.kill('SIGKILL');
});

/** Linux counts processor time in hundredths of a second. */
const MS_A_TICK = 10;

/** In user and in system mode; the fields of `/proc/PID/stat` behind the name, which may hold spaces. See proc(5). */
function processorTicks(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)?.split(' ') ?? [];
  return Number(fields[11]) + Number(fields[12]);
}

/** A program that has not said by then where it listens will not. */
const SAYS_WITHIN_MS = 60_000;

/** Where a server says that it listens, once it does. */
async function addressOf(child: ChildProcess): Promise<string> {
  if (child.stdout === null) throw new Error('the program has no output to read its address from');
  const lines = createInterface({ input: child.stdout, signal: AbortSignal.timeout(SAYS_WITHIN_MS) });
  for await (const line of lines) {
    const port = /http:\/\/(?:localhost|127\.0\.0\.1):(\d+)/.exec(line)?.[1];
    if (port !== undefined) return `http://127.0.0.1:${port}`;
  }
  throw new Error('the program ended without saying where it listens');
}

/**
 * Starts a program that says on its output where it listens, and waits for that.
 * @throws Error when it ends before.
 */
export async function startProgram(
  command: readonly string[],
  environment: Readonly<Record<string, string>>,
  errors: 'inherit' | 'ignore' | number = 'inherit',
): Promise<Program> {
  const child = spawn(process.execPath, command, {
    env: { PATH: process.env['PATH'], ...environment },
    stdio: ['ignore', 'pipe', errors],
  });
  running.add(child);
  const gone = once(child, 'exit').then(() => running.delete(child));
  const here = await addressOf(child);
  child.stdout?.resume();
  const pid = child.pid ?? 0;
  return {
    here,
    pid,
    memoryMb: () => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1024,
    processorMs: () => processorTicks(pid) * MS_A_TICK,
    async end(signal) {
      child.kill(signal);
      await gone;
    },
  };
}

/** How the desk is started in a trial. */
export interface DeskProgram {
  readonly folder: string;
  /** Of the simulated carrier on this machine. */
  readonly carrierPort: number;
  /** What it does of the desk's work where several share it. @defaultValue all of it */
  readonly role?: 'web' | 'work';
  /** For Node, before the program. */
  readonly flags?: readonly string[];
  readonly environment?: Readonly<Record<string, string>>;
  /** Where its log goes. */
  readonly log?: 'inherit' | 'ignore' | number;
}

/** Starts the desk itself, `src/main.mjs`, as a real one with a carrier, which is the simulated one. */
export function startDesk({
  folder,
  carrierPort,
  role,
  flags = [],
  environment = {},
  log,
}: DeskProgram): Promise<Program> {
  return startProgram(
    ['--import', REROUTE, ...AS_NPM_START, ...flags, MAIN, ...(role === undefined ? [] : [role])],
    {
      TRIAL_CARRIER_PORT: String(carrierPort),
      PORT: '0',
      PUBLIC_URL: SIGNED_UNDER.publicUrl,
      CARRIER_ACCOUNT: `AC${'1'.repeat(32)}`,
      CARRIER_TOKEN: SIGNED_UNDER.token,
      DESK_NUMBER,
      OWNER_PHONE: PEOPLE.owner,
      TECHNICIAN_PHONE: PEOPLE.first,
      OUTFIT_NAME: 'Quillmere Basin Oxygen',
      DATA_DIR: folder,
      ...environment,
    },
    log,
  );
}
