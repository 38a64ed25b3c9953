import { msOf } from '../time/instant.ts';
import { doAllDue } from './do-due.ts';
import type { DueRow, Worker } from './do-due.ts';

/** The longest the loop sleeps without looking, against clocks that jump. */
const LONGEST_SLEEP_MS = 30_000;
/** The shortest, so that a table that cannot be read is not asked without end. */
const SLEEP_AFTER_FAILURE_MS = 2_000;

export interface WorkLoop {
  /** Something may be due sooner than the loop thought. */
  wake(): void;
  /** Finishes the row in hand and stops. */
  stop(): Promise<void>;
}

/**
 * The embedded loop: does what is due, then sleeps until the next row is. Asleep until something is due; awake while rows
 * are done; stopped for good by `stop`, which waits for the row in hand.
 */
export function startLoop<Row extends DueRow>(worker: Worker<Row>): WorkLoop {
  let stopped = false;
  let woken = false;
  let wakeUp = (): void => {};

  async function sleepUntilDue(): Promise<void> {
    const next = await worker.table.nextDueAt();
    const dueInMs = next === null ? LONGEST_SLEEP_MS : msOf(next) - msOf(worker.now());
    await sleep(Math.min(Math.max(dueInMs, 0), LONGEST_SLEEP_MS));
  }

  async function sleep(ms: number): Promise<void> {
    if (woken || stopped) return;
    await new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, ms);
      wakeUp = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }

  async function run(): Promise<void> {
    while (!stopped) {
      woken = false;
      try {
        await doAllDue(worker);
        await sleepUntilDue();
      } catch (error) {
        worker.note('the table of work could not be read', { error });
        await sleep(SLEEP_AFTER_FAILURE_MS);
      }
    }
  }

  const running = run();
  return {
    wake() {
      woken = true;
      wakeUp();
    },
    async stop() {
      stopped = true;
      wakeUp();
      await running;
    },
  };
}
