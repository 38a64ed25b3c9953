import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { countsOf } from './torture/counts.ts';
import { FAULTS } from './torture/faults.ts';
import { runTrial } from './torture/trial.ts';
import { whyNoServers } from './trials/servers.ts';

const USAGE = `npm run torture [-- options]
The desk as real processes under load, with faults; then what a simulated phone company saw is held against the records.
Loopback only. Ends with status 1 when anything is not as the desk promises.
  --kills N    processes killed with SIGKILL in all; other faults are in proportion (500)
  --seed N     of what is done when (1)
  --only TEXT  faults with this in their name
  --keep       keeps the folder with records and logs, and says where it is
Several processes need Postgres and Redis: DATABASE_URL and REDIS_URL, or those of this machine. Disk full needs prlimit.`;

const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '500' },
    seed: { type: 'string', default: '1' },
    only: { type: 'string', default: '' },
    keep: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});

/** A whole number as it was given. @throws Error that says what is allowed */
function countOf(name: 'kills' | 'seed'): number {
  const count = Number(values[name]);
  if (!Number.isInteger(count) || count < 1) {
    throw new Error(`--${name} must be a whole number from 1; it is "${values[name]}".`);
  }
  return count;
}

async function torture(): Promise<void> {
  const kills = countOf('kills');
  const seed = countOf('seed');
  const chosen = FAULTS.filter(({ name }) => name.includes(values.only));
  if (chosen.length === 0) {
    throw new Error(`--only names no fault; there are: ${FAULTS.map(({ name }) => name).join('; ')}.`);
  }
  const missing = await whyNoServers();
  const folder = mkdtempSync(join(tmpdir(), 'nightbell-torture-'));
  let brokenInAll = 0;
  try {
    for (const [index, fault] of chosen.entries()) {
      if (missing !== null && !fault.roles.includes('both')) {
        console.log(`${fault.name}: left out, ${missing}`);
        continue;
      }
      const times = Math.max(1, Math.round(kills * fault.share));
      const trial = await runTrial(fault, times, seed + index, join(folder, String(index)));
      console.log(`${fault.name}\n  ${countsOf(trial).join('\n  ')}`);
      for (const { guarantee, what } of trial.broken) console.log(`  BROKEN ${guarantee}: ${what}`);
      brokenInAll += trial.broken.length;
    }
  } finally {
    if (values.keep) console.log(`Records and logs are in ${folder}`);
    else rmSync(folder, { recursive: true, force: true });
  }
  console.log(brokenInAll === 0 ? 'Nothing is broken.' : `${brokenInAll} broken.`);
  if (brokenInAll > 0) process.exitCode = 1;
}

if (values.help) console.log(USAGE);
else await torture();
