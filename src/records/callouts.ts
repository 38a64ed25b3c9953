import { sql } from 'kysely';
import type { Callout, NewCallout } from '../desk/records.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import type { Row } from './schema.ts';

function toCallout(row: Row<'callouts'>): Callout {
  return {
    id: row.id,
    key: row.key,
    conversationId: row.conversation_id,
    matter: row.matter,
    urgency: row.urgency,
    status: row.status,
    brief: row.brief,
    openedAt: row.opened_at,
    takenBy: row.taken_by,
    takenAt: row.taken_at,
    doneAt: row.done_at,
    note: row.note,
  };
}

/** Written out, not bound: only so does the partial index of open callouts apply. */
const NOT_DONE = sql<boolean>`status <> 'done'`;

/** Between a conflict and the look at it the other callout may end; then the key is free, and it is tried again. */
const OPENING_TRIES = 3;

/** Opens a callout, or returns the open one with that key. */
export async function openCallout(
  { db, locks }: Handle,
  callout: NewCallout,
): Promise<{ callout: Callout; opened: boolean }> {
  for (let tried = 1; tried <= OPENING_TRIES; tried += 1) {
    const inserted = await db
      .insertInto('callouts')
      .values({
        key: callout.key,
        conversation_id: callout.conversationId,
        matter: callout.matter,
        urgency: callout.urgency,
        status: callout.status,
        brief: callout.brief,
        opened_at: callout.openedAt,
        taken_by: null,
        taken_at: null,
        done_at: null,
        note: null,
      })
      .onConflict((conflict) => conflict.column('key').where(NOT_DONE).doNothing())
      .returningAll()
      .executeTakeFirst();
    if (inserted) return { callout: toCallout(inserted), opened: true };
    const standing = await db
      .selectFrom('callouts')
      .selectAll()
      .where('key', '=', callout.key)
      .where(NOT_DONE)
      .$if(locks, (query) => query.forUpdate())
      .executeTakeFirst();
    if (standing) return { callout: toCallout(standing), opened: false };
  }
  throw new Error(`Records: callouts for one matter kept ending while another was opened, ${OPENING_TRIES} times.`);
}

/** A callout; its row is held until the transaction ends, so that of two who take it one comes second. */
export async function callout({ db, locks }: Handle, id: number): Promise<Callout | null> {
  const row = await db
    .selectFrom('callouts')
    .selectAll()
    .where('id', '=', id)
    .$if(locks, (query) => query.forUpdate())
    .executeTakeFirst();
  return row ? toCallout(row) : null;
}

/** @throws when there is no callout with that id. */
export async function saveCallout({ db }: Handle, changed: Callout): Promise<void> {
  await db
    .updateTable('callouts')
    .set({
      key: changed.key,
      conversation_id: changed.conversationId,
      matter: changed.matter,
      urgency: changed.urgency,
      status: changed.status,
      brief: changed.brief,
      opened_at: changed.openedAt,
      taken_by: changed.takenBy,
      taken_at: changed.takenAt,
      done_at: changed.doneAt,
      note: changed.note,
    })
    .where('id', '=', changed.id)
    .returning('id')
    .executeTakeFirstOrThrow();
}

/** Callouts of a conversation that are not done, newest first. */
export async function openCallouts({ db, locks }: Handle, conversationId: number): Promise<readonly Callout[]> {
  const rows = await db
    .selectFrom('callouts')
    .selectAll()
    .where('conversation_id', '=', conversationId)
    .where(NOT_DONE)
    .orderBy('id', 'desc')
    .$if(locks, (query) => query.forUpdate())
    .execute();
  return rows.map(toCallout);
}

/** Every callout of a conversation, oldest first. */
export async function callouts({ db }: Handle, conversationId: number): Promise<readonly Callout[]> {
  const rows = await db
    .selectFrom('callouts')
    .selectAll()
    .where('conversation_id', '=', conversationId)
    .orderBy('id')
    .execute();
  return rows.map(toCallout);
}

interface Offer {
  readonly personId: number;
  readonly at: Instant;
  readonly by: 'text' | 'call';
}

export async function offerCallout({ db }: Handle, offer: Offer & { readonly calloutId: number }): Promise<void> {
  await db
    .insertInto('offers')
    .values({ callout_id: offer.calloutId, person_id: offer.personId, at: offer.at, by: offer.by })
    .execute();
}

/** Callouts not done that were offered to the person, however often, newest first. */
export async function calloutsOfferedTo({ db, locks }: Handle, personId: number): Promise<readonly Callout[]> {
  const rows = await db
    .selectFrom('callouts')
    .selectAll()
    .where(NOT_DONE)
    .where('id', 'in', (query) =>
      query.selectFrom('offers').select('offers.callout_id').where('offers.person_id', '=', personId),
    )
    .orderBy('id', 'desc')
    .$if(locks, (query) => query.forUpdate())
    .execute();
  return rows.map(toCallout);
}

/** The offers of a callout in the order in which they were made. */
export async function offersOf({ db }: Handle, calloutId: number): Promise<readonly Offer[]> {
  const rows = await db.selectFrom('offers').selectAll().where('callout_id', '=', calloutId).orderBy('id').execute();
  return rows.map((row) => ({ personId: row.person_id, at: row.at, by: row.by }));
}
