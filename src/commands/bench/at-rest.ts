import { cpSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { startDesk } from '../trials/program.ts';
import { timeDanger } from './load.ts';
import type { Bench } from './side-by-side.ts';

const SETTLES_IN_MS = 3_000;

export interface AtRest {
  /** From the start of the process to the whole first reply. */
  readonly startMs: number;
  /** Resident memory some seconds after that reply, in MB. */
  readonly memoryMb: number;
}

/** Starts the desk, asks it one thing and lets it rest. */
export async function startAndRest(bench: Bench, records: string): Promise<AtRest> {
  const data = join(bench.folder, 'rest');
  rmSync(data, { recursive: true, force: true });
  cpSync(records, data, { recursive: true });
  const begun = performance.now();
  const desk = await startDesk({ folder: data, carrierPort: bench.carrierPort, log: 'ignore' });
  try {
    await timeDanger(desk.here, { guest: 0, text: 0 });
    const startMs = performance.now() - begun;
    await pause(SETTLES_IN_MS);
    return { startMs, memoryMb: desk.memoryMb() };
  } finally {
    await desk.end('SIGKILL');
  }
}
