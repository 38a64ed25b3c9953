import { doAllDue } from './do-due.ts';
import type { DueRow, Worker } from './do-due.ts';
import { startRounds } from './rounds.ts';
import type { Rounds } from './rounds.ts';

/** The longest the loop sleeps without looking, against clocks that jump. */
const LONGEST_SLEEP_MS = 30_000;

/**
 * The embedded loop: does what is due, then sleeps until the next row is. Stopped for good by `stop`, which waits for the
 * row in hand.
 */
export function startLoop<Row extends DueRow>(worker: Worker<Row>): Rounds {
  return startRounds({
    look: async (enough) => void (await doAllDue(worker, enough)),
    nextAt: () => worker.table.nextDueAt(),
    longestWaitMs: LONGEST_SLEEP_MS,
    now: worker.now,
    note: worker.note,
  });
}
