import { once } from 'node:events';
import { createServer } from 'node:net';
import type { AddressInfo } from 'node:net';
import { closeSync, openSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { startDesk } from '../trials/program.ts';
import type { Program } from '../trials/program.ts';

/** One process of the desk, which may be gone for a while. */
export interface Place {
  readonly role: 'web' | 'work' | 'both';
  /** Null while it is gone. */
  readonly pid: () => number | null;
  /** Starts it, again and again where it ends by itself. */
  readonly start: () => Promise<void>;
  /** Ends it, if it is there, and waits until it is gone. */
  readonly end: (signal: NodeJS.Signals) => Promise<void>;
}

export interface DeskUnderTrial {
  readonly places: readonly Place[];
  /** Where those that answer do, whether they are there or not. */
  readonly webs: readonly string[];
  /** Sets the clock of all processes that many milliseconds before the machine's. */
  setClock(aheadMs: number): void;
  readonly aheadMs: () => number;
  startAll(): Promise<void>;
  endAll(signal: NodeJS.Signals): Promise<void>;
}

/** As whatever supervises the processes does where one ends by itself, such as while Postgres is away. */
const MOST_STARTS = 30;
const BEFORE_THE_NEXT_START_MS = 500;

const CLOCK = join(import.meta.dirname, '../trials/clock.ts');

/** A port that nobody listens on now. Kept by number, so that a process comes back where it was. */
async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  const closed = once(server, 'close');
  server.close();
  await closed;
  return port;
}

/** The desk as so many processes, none of them started. */
export async function deskUnderTrial(
  roles: readonly Place['role'][],
  folder: string,
  environment: Readonly<Record<string, string>>,
  carrierPort: () => number,
): Promise<DeskUnderTrial> {
  const clockFile = join(folder, 'clock');
  let ahead = 0;
  const setClock = (aheadMs: number): void => {
    ahead = aheadMs;
    writeFileSync(clockFile, String(aheadMs));
  };
  setClock(0);
  async function launch(role: Place['role'], port: number): Promise<Program> {
    // One log for all: what a process said before it was killed is there afterwards.
    const log = openSync(join(folder, 'desk.log'), 'a');
    try {
      return await startDesk({
        folder,
        carrierPort: carrierPort(),
        ...(role === 'both' ? {} : { role }),
        flags: ['--import', CLOCK],
        environment: { PORT: String(port), TRIAL_CLOCK: clockFile, TEXTS_PER_SECOND: '100', ...environment },
        log,
      });
    } finally {
      closeSync(log);
    }
  }

  const webs: string[] = [];
  const places: Place[] = [];
  for (const role of roles) {
    const port = await freePort();
    if (role !== 'work') webs.push(`http://127.0.0.1:${port}`);
    let program: Program | null = null;
    places.push({
      role,
      pid: () => program?.pid ?? null,
      async start() {
        for (let tries = 1; program === null; tries += 1) {
          program = await launch(role, port).catch(async (error: unknown) => {
            if (tries === MOST_STARTS) throw error;
            await pause(BEFORE_THE_NEXT_START_MS);
            return null;
          });
        }
      },
      async end(signal) {
        const ending = program;
        program = null;
        await ending?.end(signal);
      },
    });
  }
  return {
    places,
    webs,
    setClock,
    aheadMs: () => ahead,
    async startAll() {
      await Promise.all(places.filter(({ pid }) => pid() === null).map((place) => place.start()));
    },
    async endAll(signal) {
      await Promise.all(places.map((place) => place.end(signal)));
    },
  };
}
