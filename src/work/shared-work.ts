import { setTimeout as pause } from 'node:timers/promises';
import { Worker as QueueWorker } from 'bullmq';
import type { Redis } from 'ioredis';
import { after } from '../time/instant.ts';
import { doAllDue, doOne } from './do-due.ts';
import type { Worker } from './do-due.ts';
import type { Handover } from './handover.ts';
import { LANES } from './lanes.ts';
import type { Lane } from './lanes.ts';
import { startRounds } from './rounds.ts';
import type { Rounds } from './rounds.ts';
import type { SharedRow, SharedTable } from './shared-table.ts';

export interface SharedWorker<Row extends SharedRow> extends Worker<Row> {
  readonly table: SharedTable<Row>;
  readonly handover: Handover;
  /** Waits for jobs. Ended together with the work. */
  readonly redis: Redis;
  readonly prefix: string;
  /** Rows of the paced lane that all processes together begin in a second. Above 0. */
  readonly perSecond: number;
}

/** Rows that one process does at once, by lane: a slow send must not keep the next callout waiting. */
const AT_ONCE: Readonly<Record<Lane, number>> = { danger: 4, paced: 4, unpaced: 4 };
/** Rows handed over in one sweep at most; the rest come with the next. */
const MOST_A_SWEEP = 500;
/** What another process wrote and could not hand over is found after this, at the latest. */
const SWEEP_EVERY_MS = 5_000;
/** A danger row that is due for so long is done past the queue, whatever has become of its job. */
const DANGER_WAITS = 'PT10S';
/** In a process that only answers, as long as the workers' own care for it takes, and a little. */
const DANGER_WAITS_WITHOUT_WORKERS = 'PT20S';
/** As long as a send may take, and a little: then work in hand goes back to the others. */
const GRACE_MS = 15_000;
const CLOSED_WITHIN_MS = 1_000;

/** BullMQ counts in whole jobs and milliseconds: half a text a second is one in two. */
function limiterOf(perSecond: number): { max: number; duration: number } {
  if (perSecond >= 1) return { max: Math.floor(perSecond), duration: 1000 };
  return { max: 1, duration: Math.ceil(1000 / perSecond) };
}

async function doLateDanger<Row extends SharedRow>(
  worker: Worker<Row> & { readonly table: SharedTable<Row> },
  waits: string,
  enough: () => boolean,
): Promise<void> {
  const late = await worker.table.dueWork(after(worker.now(), `-${waits}`), MOST_A_SWEEP);
  for (const { id } of late.filter(({ danger }) => danger)) if (!enough()) await doOne(worker, id);
}

/**
 * For a process that only answers: danger that no worker has done in time is done here. Whatever has become of all the
 * workers, a callout must not wait for them.
 */
export function startDangerWatch<Row extends SharedRow>(
  worker: Worker<Row> & { readonly table: SharedTable<Row> },
): Rounds {
  return startRounds({
    look: (enough) => doLateDanger(worker, DANGER_WAITS_WITHOUT_WORKERS, enough),
    nextAt: () => Promise.resolve(null),
    longestWaitMs: SWEEP_EVERY_MS,
    now: worker.now,
    note: worker.note,
  });
}

/**
 * Does shared work in this process: rows that are handed over, and a sweep that hands over again whatever is due and not
 * done, so that a lost or emptied Redis loses nothing. The table stays the truth: a job is only a hint to look at a row, and
 * what is done is the oldest unfinished row of that guest, by a lease in the table.
 *
 * While Redis is away the sweep does what is due itself, one row after another, as the embedded loop does.
 */
export function startSharedWork<Row extends SharedRow>(worker: SharedWorker<Row>): Rounds {
  const { table, handover, now, note } = worker;
  let stopping = false;
  // The queue keeps the pace; the worker's own `holdBack` keeps it where there is no queue. A row whose claim was on its way
  // when this process was stopped is given back.
  const unheld = { ...worker, holdBack: () => (stopping ? now() : null) };
  const inHand = new Map<number, Row>();
  const doWork = async (row: Row) => {
    inHand.set(row.id, row);
    try {
      return await worker.doWork(row);
    } finally {
      inHand.delete(row.id);
    }
  };

  /** What waited in the table behind the row that was just done. */
  async function handNext({ phone, danger }: Row): Promise<void> {
    if (phone !== null) await handover.hand(await table.dueWork(now(), 1, { phone, danger }));
  }

  const busy = new Set<Promise<unknown>>();

  async function doHanded(id: number): Promise<void> {
    // A job that comes while this process ends is for another: the next sweep hands it over again.
    if (stopping) return;
    const doing = doOne({ ...unheld, doWork }, id);
    busy.add(doing);
    const row = await doing.finally(() => busy.delete(doing));
    // Without it the sweep would find the next one, some seconds later.
    if (row !== null) await handNext(row).catch(() => {});
  }

  const jobs = LANES.map((lane) => {
    const jobsOfLane = new QueueWorker<{ row: number }>(lane, (job) => doHanded(job.data.row), {
      connection: worker.redis,
      prefix: worker.prefix,
      concurrency: AT_ONCE[lane],
      ...(lane === 'paced' ? { limiter: limiterOf(worker.perSecond) } : {}),
      removeOnComplete: { count: 0 },
      removeOnFail: { count: 0 },
    });
    jobsOfLane.on('error', () => {}); // the connections' own listeners note it
    return jobsOfLane;
  });

  async function handOver(enough: () => boolean): Promise<void> {
    await worker.beforeClaiming?.();
    try {
      await handover.hand(await table.dueWork(now(), MOST_A_SWEEP));
    } catch (error) {
      if (handover.ready()) note('Redis did not take work; it is done straight from the table', { error });
      await doAllDue({ ...worker, doWork }, enough);
      return;
    }
    await doLateDanger({ ...unheld, doWork }, DANGER_WAITS, enough);
  }

  const sweep = startRounds({
    look: handOver,
    nextAt: () => table.nextDueAfter(now()),
    longestWaitMs: SWEEP_EVERY_MS,
    now,
    note,
  });

  return {
    wake: () => sweep.wake(),
    async stop() {
      stopping = true;
      const closed = Promise.allSettled(jobs.map((jobsOfLane) => jobsOfLane.close()));
      const finished = Promise.allSettled([sweep.stop(), ...busy]);
      const wait = (ms: number): Promise<unknown> => pause(ms, undefined, { ref: false });
      // A carrier may hang; and without Redis BullMQ waits for it for ever.
      await Promise.race([finished, wait(GRACE_MS)]);
      await Promise.race([closed, wait(CLOSED_WITHIN_MS)]);
      for (const row of inHand.values()) {
        note('work in hand was handed back', { work: row.id, kind: row.kind });
        await table.postponeWork(row.id, now());
      }
      worker.redis.disconnect();
    },
  };
}
