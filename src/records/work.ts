import type { ExpressionBuilder } from 'kysely';
import type { DueWork, NewWork, Work } from '../desk/records.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import { prepared } from './prepared.ts';
import type { Row, Tables } from './schema.ts';
import { yesNo } from './schema.ts';

/**
 * The work table is the outbox and the timers. A row's place among its guest's rows is `due_at`, then `id`, and changes
 * only for rows that are hastened, put off or moved. When it may be claimed is `free_at`: first the same, then the end of
 * the lease, then of a back-off. A row whose worker died is therefore simply free again; `attempted_at` then still says
 * that something may have been handed to the carrier.
 */
function toWork(row: Row<'work'>): Work {
  return {
    id: row.id,
    kind: row.kind,
    dueAt: row.due_at,
    notAfter: row.not_after,
    key: row.key,
    phone: row.phone,
    danger: row.danger === 1,
    payload: JSON.parse(row.payload_json) as unknown,
    tries: row.tries,
    attemptedAt: row.attempted_at,
  };
}

/** The rows that keep one order: of one guest, and of the same danger. */
type Order = Pick<Work, 'phone' | 'danger'>;

type WorkValues = Omit<Row<'work'>, 'id'>;

const insertWork = prepared<WorkValues>()(({ db }, row) =>
  db
    .insertInto('work')
    .values({
      kind: row.kind,
      due_at: row.due_at,
      free_at: row.free_at,
      not_after: row.not_after,
      key: row.key,
      phone: row.phone,
      danger: row.danger,
      payload_json: row.payload_json,
      tries: row.tries,
      done_at: row.done_at,
      result: row.result,
      attempted_at: row.attempted_at,
    })
    .onConflict((conflict) => conflict.column('key').where('done_at', 'is', null).doNothing())
    .returning('id'),
);

export function columnsOf(work: NewWork): WorkValues {
  return {
    kind: work.kind,
    due_at: work.dueAt,
    free_at: work.dueAt,
    not_after: work.notAfter,
    key: work.key,
    phone: work.phone,
    danger: yesNo(work.danger),
    payload_json: JSON.stringify(work.payload ?? null),
    tries: 0,
    done_at: null,
    result: null,
    attempted_at: null,
  };
}

/** Adds a row, unless an undone one has its key. */
export async function addWork(handle: Handle, work: NewWork): Promise<void> {
  const [added] = await insertWork(handle, columnsOf(work));
  if (added) handle.noteWork?.({ id: added.id, tries: 0, kind: work.kind, danger: work.danger, dueAt: work.dueAt });
}

/** Adds a row with a key, unless any row ever had it, done or not. */
export async function planWork(handle: Handle, work: NewWork & { readonly key: string }): Promise<void> {
  const before = await handle.db
    .selectFrom('work')
    .select('id')
    .where('key', '=', work.key)
    .limit(1)
    .executeTakeFirst();
  if (before === undefined) await addWork(handle, work);
}

const drop = prepared<{ key: string; at: Instant }>()(({ db }, { key, at }) =>
  db.updateTable('work').set({ done_at: at, result: 'dropped' }).where('key', '=', key).where('done_at', 'is', null),
);

/** Marks undone rows with exactly this key as done without doing them. */
export async function dropWork(handle: Handle, key: string, at: Instant): Promise<void> {
  await drop(handle, { key, at });
}

export async function workById({ db }: Handle, id: number): Promise<Work | null> {
  const row = await db.selectFrom('work').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? toWork(row) : null;
}

/** No older row of the same guest and danger is unfinished. A row that belongs to no guest waits for none. */
function nothingOlder(row: ExpressionBuilder<Tables, 'work'>) {
  const older = row
    .selectFrom('work as older')
    .select('older.id')
    .where('older.done_at', 'is', null)
    .whereRef('older.phone', '=', 'work.phone')
    .whereRef('older.danger', '=', 'work.danger')
    .where((older) =>
      older.or([
        older('older.due_at', '<', older.ref('work.due_at')),
        older.and([older('older.due_at', '=', older.ref('work.due_at')), older('older.id', '<', older.ref('work.id'))]),
      ]),
    );
  return row.not(row.exists(older));
}

/** Rows that could be claimed at an instant. */
const claimable = ({ db }: Handle, now: Instant) =>
  db
    .selectFrom('work')
    .where('done_at', 'is', null)
    .where('due_at', '<=', now)
    .where('free_at', '<=', now)
    .where(nothingOlder)
    .orderBy('due_at')
    .orderBy('id');

type Claimable = ReturnType<typeof claimable>;

/** Which of the claimable rows may be claimed: those of a danger, or of the order that one row stands in. */
type Among = (rows: Claimable) => Claimable;

const OF_ANY: readonly Among[] = [1, 0].map((danger) => (rows) => rows.where('danger', '=', danger as 0 | 1));

const inOrder =
  ({ phone, danger }: Order): Among =>
  (rows) =>
    rows.where('phone', '=', phone).where('danger', '=', yesNo(danger));

/** The rows that the row with the id stands among: its guest's, or none but itself; nothing when it is done. */
async function orderOf({ db }: Handle, id: number): Promise<readonly Among[]> {
  const row = await db
    .selectFrom('work')
    .select(['phone', 'danger'])
    .where('id', '=', id)
    .where('done_at', 'is', null)
    .executeTakeFirst();
  if (row === undefined) return [];
  if (row.phone === null) return [(rows) => rows.where('id', '=', id)];
  return [inOrder({ phone: row.phone, danger: row.danger === 1 })];
}

/**
 * Leases the next row that is due until `leaseUntil`, danger first, then oldest; null when there is none. With the id of a
 * row, only what stands in the same order as that row.
 */
export async function claimWork(
  handle: Handle,
  now: Instant,
  leaseUntil: Instant,
  inOrderOf?: number,
): Promise<Work | null> {
  for (const among of inOrderOf === undefined ? OF_ANY : await orderOf(handle, inOrderOf)) {
    const next = await among(claimable(handle, now))
      .select('id')
      .limit(1)
      // Another process that is claiming the row has it; look for the next one instead of waiting.
      .$if(handle.locks, (query) => query.forUpdate().skipLocked())
      .executeTakeFirst();
    if (!next) continue;
    const leased = await handle.db
      .updateTable('work')
      .set((row) => ({ free_at: leaseUntil, tries: row('tries', '+', 1) }))
      .where('id', '=', next.id)
      .returningAll()
      .executeTakeFirstOrThrow();
    return toWork(leased);
  }
  return null;
}

/** Rows that can be claimed and are free since `freeBy`, danger first, then oldest; of one order where it is given. */
export async function dueWork(
  handle: Handle,
  freeBy: Instant,
  most: number,
  order?: Order,
): Promise<readonly DueWork[]> {
  const found: DueWork[] = [];
  for (const among of order === undefined ? OF_ANY : [inOrder(order)]) {
    const rows = await among(claimable(handle, freeBy))
      .select(['id', 'kind', 'tries', 'danger'])
      .limit(most - found.length)
      .execute();
    found.push(...rows.map((row) => ({ ...row, danger: row.danger === 1 })));
  }
  return found;
}

/** The earliest instant after `now` at which an undone row is free, whether or not an older one is in its way then. */
export async function nextDueAfter({ db }: Handle, now: Instant): Promise<Instant | null> {
  const next = await db
    .selectFrom('work')
    .select('free_at')
    .where('done_at', 'is', null)
    .where('free_at', '>', now)
    .orderBy('free_at')
    .limit(1)
    .executeTakeFirst();
  return next?.free_at ?? null;
}

/** Marks a row as done; one that was dropped meanwhile stays as it was. */
export async function finishWork({ db }: Handle, id: number, result: string, at: Instant): Promise<void> {
  await db.updateTable('work').set({ done_at: at, result }).where('id', '=', id).where('done_at', 'is', null).execute();
}

/**
 * Holds a claimed row until the transaction ends. False when it is done, or was claimed again since: each claim raises
 * `tries`, so whoever claimed it before has lost it, by a lease that ran out or a clock that jumped past its end.
 */
export async function holdWork({ db, locks }: Handle, claimed: Pick<Work, 'id' | 'tries'>): Promise<boolean> {
  const row = await db
    .selectFrom('work')
    .select('id')
    .where('id', '=', claimed.id)
    .where('tries', '=', claimed.tries)
    .where('done_at', 'is', null)
    .$if(locks, (query) => query.forUpdate())
    .executeTakeFirst();
  return row !== undefined;
}

/** Marks that a row is about to be handed to the carrier; null takes the mark back, when it surely was not taken. */
export async function markAttempt({ db }: Handle, id: number, at: Instant | null): Promise<void> {
  await db.updateTable('work').set({ attempted_at: at }).where('id', '=', id).where('done_at', 'is', null).execute();
}

/** Undone rows of some kinds, oldest first. */
export async function undoneWork({ db }: Handle, kinds: readonly string[]): Promise<readonly Work[]> {
  const rows = await db
    .selectFrom('work')
    .selectAll()
    .where('done_at', 'is', null)
    .where('kind', 'in', kinds)
    .orderBy('id')
    .execute();
  return rows.map(toWork);
}

const nextFree = prepared<object>()(({ db }) =>
  db.selectFrom('work').select('free_at').where('done_at', 'is', null).where(nothingOlder).orderBy('free_at').limit(1),
);

/** The earliest instant at which a row can be claimed if none is finished before; it may be past. */
export async function nextDueAt(handle: Handle): Promise<Instant | null> {
  const [next] = await nextFree(handle, {});
  return next?.free_at ?? null;
}
