import { closeSync, fdatasyncSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';

/** How fast this machine is at the moment, so that figures of two benches can be held against each other. */
export interface MachineNow {
  /** For a loop of ten million additions. */
  readonly loopMs: number;
  /** Median, to get 4 kB onto the disk itself. */
  readonly flushMs: number;
}

const ADDITIONS = 1e7;
const FLUSHES = 50;

function loopMs(): number {
  const begun = performance.now();
  let sum = 0;
  for (let number = 0; number < ADDITIONS; number += 1) sum += number;
  const took = performance.now() - begun;
  if (sum <= 0) throw new Error('the loop did not run');
  return took;
}

function flushMs(folder: string): number {
  const file = openSync(join(folder, 'flush'), 'w');
  try {
    const page = Buffer.alloc(4096, 1);
    const took = Array.from({ length: FLUSHES }, () => {
      writeSync(file, page);
      const begun = performance.now();
      fdatasyncSync(file);
      return performance.now() - begun;
    });
    return took.toSorted((a, b) => a - b)[FLUSHES / 2] ?? Number.NaN;
  } finally {
    closeSync(file);
  }
}

export function machineNow(folder: string): MachineNow {
  loopMs();
  return { loopMs: loopMs(), flushMs: flushMs(folder) };
}
