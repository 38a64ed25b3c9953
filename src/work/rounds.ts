import { msOf } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';

/** Rounds of looking for work, one after another. */
export interface Rounds {
  /** Something may be due sooner than was thought. */
  wake(): void;
  /** Ends the round under way and begins no other. */
  stop(): Promise<void>;
}

export interface RoundsParts {
  /** One round. Once `enough` is true, it begins nothing more. */
  readonly look: (enough: () => boolean) => Promise<void>;
  /** When the next round is worth it; null when nothing is in sight. */
  readonly nextAt: () => Promise<Instant | null>;
  /** The longest wait between two rounds: against clocks that jump, and for what others wrote. */
  readonly longestWaitMs: number;
  readonly now: () => Instant;
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
}

/**
 * Rounds that something woke begin this far apart at least. Every text wakes the loop, most for nothing: under load it would
 * look at the table more often than texts are answered. After a rest the first wake is followed at once.
 */
const LEAST_APART_MS = 25;
/** The wait after a round that failed, so that a table that cannot be read is not asked without end. */
const WAIT_AFTER_FAILURE_MS = 2_000;

/** Begins at once; asleep between rounds until something is due; awake in a round; stopped for good by `stop`. */
export function startRounds({ look, nextAt, longestWaitMs, now, note }: RoundsParts): Rounds {
  let stopped = false;
  let woken = false;
  let wakeUp = (): void => {};

  async function sleep(ms: number, wakes: 'by anything' | 'by stop' = 'by anything'): Promise<void> {
    if (stopped || (woken && wakes === 'by anything')) return;
    await new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, ms);
      wakeUp = () => {
        if (!stopped && wakes === 'by stop') return;
        clearTimeout(timer);
        resolve();
      };
    });
  }

  async function run(): Promise<void> {
    while (!stopped) {
      woken = false;
      const begun = performance.now();
      try {
        await look(() => stopped);
        const next = await nextAt();
        const dueInMs = next === null ? longestWaitMs : msOf(next) - msOf(now());
        await sleep(Math.min(Math.max(dueInMs, 0), longestWaitMs));
      } catch (error) {
        note('the table of work could not be read', { error });
        await sleep(WAIT_AFTER_FAILURE_MS);
      }
      if (woken) await sleep(Math.max(begun + LEAST_APART_MS - performance.now(), 0), 'by stop');
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
