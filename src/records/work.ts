import type { ExpressionBuilder } from 'kysely';
import type { NewWork, Work } from '../desk/records.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
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

function columnsOf(work: NewWork) {
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
export async function addWork({ db }: Handle, work: NewWork): Promise<void> {
  await db
    .insertInto('work')
    .values(columnsOf(work))
    .onConflict((conflict) => conflict.column('key').where('done_at', 'is', null).doNothing())
    .execute();
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

/** Marks undone rows with exactly this key as done without doing them. */
export async function dropWork({ db }: Handle, key: string, at: Instant): Promise<void> {
  await db
    .updateTable('work')
    .set({ done_at: at, result: 'dropped' })
    .where('key', '=', key)
    .where('done_at', 'is', null)
    .execute();
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

/** Leases the next row that is due until `leaseUntil`, danger first, then oldest; null when there is none. */
export async function claimWork({ db, locks }: Handle, now: Instant, leaseUntil: Instant): Promise<Work | null> {
  for (const danger of [1, 0] as const) {
    const next = await db
      .selectFrom('work')
      .select('id')
      .where('done_at', 'is', null)
      .where('danger', '=', danger)
      .where('due_at', '<=', now)
      .where('free_at', '<=', now)
      .where(nothingOlder)
      .orderBy('due_at')
      .orderBy('id')
      .limit(1)
      // Another process that is claiming the row has it; look for the next one instead of waiting.
      .$if(locks, (query) => query.forUpdate().skipLocked())
      .executeTakeFirst();
    if (!next) continue;
    const leased = await db
      .updateTable('work')
      .set((row) => ({ free_at: leaseUntil, tries: row('tries', '+', 1) }))
      .where('id', '=', next.id)
      .returningAll()
      .executeTakeFirstOrThrow();
    return toWork(leased);
  }
  return null;
}

/** Marks a row as done; one that was dropped meanwhile stays as it was. */
export async function finishWork({ db }: Handle, id: number, result: string, at: Instant): Promise<void> {
  await db.updateTable('work').set({ done_at: at, result }).where('id', '=', id).where('done_at', 'is', null).execute();
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

/** The earliest instant at which a row can be claimed if none is finished before; it may be past. */
export async function nextDueAt({ db }: Handle): Promise<Instant | null> {
  const next = await db
    .selectFrom('work')
    .select('free_at')
    .where('done_at', 'is', null)
    .where(nothingOlder)
    .orderBy('free_at')
    .limit(1)
    .executeTakeFirst();
  return next?.free_at ?? null;
}
