import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { instantOfMs } from '../../time/instant.ts';
import { furnish } from '../trials/outfit.ts';
import { startDesk } from '../trials/program.ts';
import type { Program } from '../trials/program.ts';
import { sharedPlace } from '../trials/servers.ts';
import { load } from './load.ts';
import type { Bench } from './side-by-side.ts';

const CONNECTIONS = 64;

/** Texts a second that so many web processes answer together, beside one that works, on a database of their own. */
export async function sharedRate(
  bench: Bench,
  webs: number,
  outfit: { readonly units: number; readonly guests: number },
): Promise<number> {
  const folder = join(bench.folder, 'shared');
  mkdirSync(folder, { recursive: true });
  const { postgresUrl, environment, remove } = await sharedPlace('bench');
  try {
    await furnish({ postgresUrl }, outfit, instantOfMs(Date.now()));
    const programs: Program[] = [];
    for (const role of [...Array.from({ length: webs }, () => 'web' as const), 'work' as const]) {
      programs.push(await startDesk({ folder, carrierPort: bench.carrierPort, role, environment, log: 'ignore' }));
    }
    const numbers = { guest: 0, text: 0 };
    const onAll = async (seconds: number): Promise<number> => {
      const connections = CONNECTIONS / webs;
      const parts = programs.slice(0, webs).map(({ here }) => load({ here, connections, seconds, numbers }));
      return (await Promise.all(parts)).reduce((sum, { perSecond }) => sum + perSecond, 0);
    };
    try {
      await onAll(bench.warmUpSeconds);
      return await onAll(bench.seconds);
    } finally {
      for (const program of programs) await program.end('SIGKILL');
    }
  } finally {
    await remove();
  }
}
