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
  /** The next row that is due; with a row's id, the next of the order that this row stands in, be it older or none. */
  claimWork(now: Instant, leaseUntil: Instant, inOrderOf?: number): Promise<Row | null>;
  finishWork(id: number, result: string, at: Instant): Promise<void>;
  postponeWork(id: number, dueAt: Instant): Promise<void>;
  giveBackWork(id: number, freeAt: Instant): Promise<void>;
  moveWork(id: number, dueAt: Instant): Promise<void>;
  nextDueAt(): Promise<Instant | null>;
}

/**
 * Done, with a word for the records; to be tried again; not begun, and due later; or not begun, because another worker has
 * claimed the row since.
 */
export type Outcome =
  | { readonly done: string }
  | { readonly againAt: Instant }
  | { readonly movedTo: Instant }
  | { readonly takenOver: true };

export interface Worker<Row extends DueRow> {
  readonly table: WorkTable<Row>;
  /** Does one row; throws when it could not be done, and the row is then tried again later. */
  readonly doWork: (row: Row) => Promise<Outcome>;
  /** Called before each claim. */
  readonly beforeClaiming?: () => Promise<void>;
  /** When a row may begin, if not now. */
  readonly holdBack?: (row: Row) => Instant | null;
  readonly now: () => Instant;
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
}

/** Longer than the slowest send, so that a row is not done by two workers at once. */
const LEASE = 'PT1M';
/** A row that cannot be done stays in the table, and is looked at again this much later; it never blocks the others. */
const AFTER_A_FAILURE = 'PT1M';

/**
 * Claims and does one row: the next that is due, or the next of the order that the row with the id stands in. Gives the row;
 * null when there was none to be had.
 */
export async function doOne<Row extends DueRow>(worker: Worker<Row>, inOrderOf?: number): Promise<Row | null> {
  const { table, now } = worker;
  // However long a round of looking takes, each row is claimed by a clock that was looked at.
  await worker.beforeClaiming?.();
  const row = await table.claimWork(now(), after(now(), LEASE), inOrderOf);
  if (row === null) return null;
  const startsAt = worker.holdBack?.(row) ?? null;
  if (startsAt !== null) {
    await table.giveBackWork(row.id, startsAt);
    return row;
  }
  try {
    const outcome = await worker.doWork(row);
    if ('done' in outcome) await table.finishWork(row.id, outcome.done, now());
    else if ('movedTo' in outcome) await table.moveWork(row.id, outcome.movedTo);
    else if ('againAt' in outcome) await table.postponeWork(row.id, outcome.againAt);
  } catch (error) {
    worker.note('due work failed; it is tried again', { work: row.id, kind: row.kind, tries: row.tries, error });
    await table.postponeWork(row.id, after(now(), AFTER_A_FAILURE));
  }
  return row;
}

/**
 * Does everything that is due by now, and what falls due by doing it. Returns how many rows were claimed.
 * @param enough asked before each row; once true, no other is begun
 */
export async function doAllDue<Row extends DueRow>(
  worker: Worker<Row>,
  enough: () => boolean = () => false,
): Promise<number> {
  let count = 0;
  while (!enough() && (await doOne(worker)) !== null) count += 1;
  return count;
}
