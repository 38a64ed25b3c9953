import { after } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';

/** One row of due work, as the table gives it. What it means is not known here. */
export interface DueRow {
  readonly id: number;
  readonly kind: string;
  readonly tries: number;
}

/** The table of work, which stays the truth whoever does the work. */
export interface WorkTable<Row extends DueRow> {
  claimWork(now: Instant, leaseUntil: Instant): Promise<Row | null>;
  finishWork(id: number, result: string, at: Instant): Promise<void>;
  postponeWork(id: number, dueAt: Instant): Promise<void>;
  giveBackWork(id: number, freeAt: Instant): Promise<void>;
  moveWork(id: number, dueAt: Instant): Promise<void>;
  nextDueAt(): Promise<Instant | null>;
}

/** Done, with a word for the records; to be tried again; or not begun, and due later. */
export type Outcome = { readonly done: string } | { readonly againAt: Instant } | { readonly movedTo: Instant };

export interface Worker<Row extends DueRow> {
  readonly table: WorkTable<Row>;
  /** Does one row; throws when it could not be done, and the row is then tried again later. */
  readonly doWork: (row: Row) => Promise<Outcome>;
  /** Called before each look at the table. */
  readonly beforeLooking?: () => Promise<void>;
  /** When a row may begin, if not now. */
  readonly holdBack?: (row: Row) => Instant | null;
  readonly now: () => Instant;
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
}

/** Longer than the slowest send, so that a row is not done by two workers at once. */
const LEASE = 'PT1M';
/** A row that cannot be done stays in the table, and is looked at again this much later; it never blocks the others. */
const AFTER_A_FAILURE = 'PT1M';

/** Claims and does one row. False when nothing is due. */
async function doNext<Row extends DueRow>(worker: Worker<Row>): Promise<boolean> {
  const { table, now } = worker;
  const row = await table.claimWork(now(), after(now(), LEASE));
  if (row === null) return false;
  const startsAt = worker.holdBack?.(row) ?? null;
  if (startsAt !== null) {
    await table.giveBackWork(row.id, startsAt);
    return true;
  }
  try {
    const outcome = await worker.doWork(row);
    if ('done' in outcome) await table.finishWork(row.id, outcome.done, now());
    else if ('movedTo' in outcome) await table.moveWork(row.id, outcome.movedTo);
    else await table.postponeWork(row.id, outcome.againAt);
  } catch (error) {
    worker.note('due work failed; it is tried again', { work: row.id, kind: row.kind, tries: row.tries, error });
    await table.postponeWork(row.id, after(now(), AFTER_A_FAILURE));
  }
  return true;
}

/** Does everything that is due by now, and what falls due by doing it. Returns how many rows were claimed. */
export async function doAllDue<Row extends DueRow>(worker: Worker<Row>): Promise<number> {
  await worker.beforeLooking?.();
  let count = 0;
  while (await doNext(worker)) count += 1;
  return count;
}
