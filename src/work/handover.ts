import { setTimeout as pause } from 'node:timers/promises';
import { Queue } from 'bullmq';
import type { Redis } from 'ioredis';
import { LANES, jobIdOf, laneOf } from './lanes.ts';
import type { Lane } from './lanes.ts';
import type { HandedRow } from './shared-table.ts';

/** The relay: hands rows that are due to the workers, of whatever process, that wait for them. */
export interface Handover {
  /**
   * Gives each row to the queue of its lane; a row that is there already stays there once.
   * @throws Error when Redis does not take them; the rows are in the table and handed over again by the next sweep.
   */
  hand(rows: readonly HandedRow[]): Promise<void>;
  /** Whether Redis takes rows now. */
  ready(): boolean;
  /** Resolved once Redis has been reached for the first time. */
  connected(): Promise<void>;
  close(): Promise<void>;
}

export interface HandoverParts {
  readonly redis: Redis;
  /** In front of every key in Redis. */
  readonly prefix: string;
  readonly isPaced: (kind: string) => boolean;
}

/** Redis answers in a millisecond or is not well: nobody waits longer. */
const ANSWERS_WITHIN_MS = 2_000;

export function openHandover({ redis, prefix, isPaced }: HandoverParts): Handover {
  let queues: ReadonlyMap<Lane, Queue> | null = null;
  const { promise: connected, resolve: connectedNow } = Promise.withResolvers<void>();
  // Not before: a queue that finds no Redis when it is made is of no use ever after.
  redis.once('ready', () => {
    queues = new Map(
      LANES.map((lane) => {
        const queue = new Queue(lane, {
          connection: redis,
          prefix,
          skipWaitingForReady: true,
          streams: { events: { maxLen: 100 } },
        });
        queue.on('error', () => {}); // the connection's own listener notes it
        return [lane, queue];
      }),
    );
    connectedNow();
  });
  const ready = (): boolean => queues !== null && redis.status === 'ready';
  return {
    async hand(rows) {
      if (rows.length === 0) return;
      if (queues === null || redis.status !== 'ready') throw new Error(`Redis is not there (${redis.status})`);
      const byLane = Map.groupBy(rows, (row) => laneOf(row, isPaced));
      const handed = Promise.all(
        [...byLane].map(async ([lane, inLane]) =>
          queues?.get(lane)?.addBulk(
            inLane.map((row) => ({
              name: row.kind,
              data: { row: row.id },
              // Not kept: the table says what was done, and a name must be free for when the row comes again.
              opts: { jobId: jobIdOf(row), removeOnComplete: true, removeOnFail: true },
            })),
          ),
        ),
      );
      const late = new AbortController();
      const tooLong = pause(ANSWERS_WITHIN_MS, undefined, { signal: late.signal, ref: false }).then(() => {
        throw new Error(`Redis did not answer within ${ANSWERS_WITHIN_MS} ms`);
      });
      try {
        await Promise.race([handed, tooLong]);
      } finally {
        late.abort();
        tooLong.catch(() => {});
        handed.catch(() => {});
      }
    },
    ready,
    connected: () => connected,
    async close() {
      await Promise.race([
        Promise.allSettled([...(queues?.values() ?? [])].map((queue) => queue.close())),
        pause(ANSWERS_WITHIN_MS, undefined, { ref: false }),
      ]);
      redis.disconnect();
    },
  };
}
