import { sql } from 'kysely';
import type { Callout, CalloutShare, NewCallout, Offer } from '../desk/records.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import { prepared } from './prepared.ts';
import type { Row } from './schema.ts';

export function toCallout(row: Row<'callouts'>): Callout {
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
    round: row.round,
    cause: row.cause,
  };
}

/** Written out, not bound: only so does the partial index of open callouts apply. */
export const NOT_DONE = sql<boolean>`status <> 'done'`;

/** Between a conflict and the look at it the other callout may end; then the key is free, and it is tried again. */
const OPENING_TRIES = 3;

/** Opens a callout, or returns the open one with that key; its conversation has a part in it either way. */
export async function openCallout(handle: Handle, callout: NewCallout): Promise<{ callout: Callout; opened: boolean }> {
  const opening = await openOrFind(handle, callout);
  const { conversationId, openedAt: at } = callout;
  await joinCallout(handle, { calloutId: opening.callout.id, conversationId, at });
  return opening;
}

async function openOrFind({ db, locks }: Handle, callout: NewCallout): Promise<{ callout: Callout; opened: boolean }> {
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
        cause: callout.cause ?? null,
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
      round: changed.round,
      cause: changed.cause,
    })
    .where('id', '=', changed.id)
    .returning('id')
    .executeTakeFirstOrThrow();
}

/** Ids of the callouts that a conversation has a part in. */
const sharedBy = (db: Handle['db'], conversationId: number) =>
  db.selectFrom('callout_conversations').select('callout_id').where('conversation_id', '=', conversationId);

const openRows = prepared<{ conversationId: number }>()(({ db, locks }, { conversationId }) =>
  db
    .selectFrom('callouts')
    .selectAll()
    .where('id', 'in', sharedBy(db, conversationId))
    .where(NOT_DONE)
    .orderBy('id', 'desc')
    .$if(locks, (query) => query.forUpdate()),
);

/** Callouts that a conversation has a part in and that are not done, newest first. */
export async function openCallouts(handle: Handle, conversationId: number): Promise<readonly Callout[]> {
  const rows = await openRows(handle, { conversationId });
  return rows.map(toCallout);
}

/** Every callout that a conversation has a part in, oldest first. */
export async function callouts({ db }: Handle, conversationId: number): Promise<readonly Callout[]> {
  const rows = await db
    .selectFrom('callouts')
    .selectAll()
    .where('id', 'in', sharedBy(db, conversationId))
    .orderBy('id')
    .execute();
  return rows.map(toCallout);
}

/** Gives a conversation its part in a callout; once. */
export async function joinCallout(
  { db }: Handle,
  joining: { readonly calloutId: number; readonly conversationId: number; readonly at: Instant },
): Promise<void> {
  await db
    .insertInto('callout_conversations')
    .values({
      callout_id: joining.calloutId,
      conversation_id: joining.conversationId,
      joined_at: joining.at,
      told_at: null,
    })
    .onConflict((conflict) => conflict.columns(['callout_id', 'conversation_id']).doNothing())
    .execute();
}

/** The conversations that have a part in a callout, in the order in which they joined. */
export async function conversationsOf({ db }: Handle, calloutId: number): Promise<readonly CalloutShare[]> {
  const rows = await db
    .selectFrom('callout_conversations')
    .selectAll()
    .where('callout_id', '=', calloutId)
    .orderBy('id')
    .execute();
  return rows.map((row) => ({ conversationId: row.conversation_id, joinedAt: row.joined_at, toldAt: row.told_at }));
}

/** The guest of a conversation has been told that their texts go to the one who took the callout. */
export async function markTold({ db }: Handle, calloutId: number, conversationId: number, at: Instant): Promise<void> {
  await db
    .updateTable('callout_conversations')
    .set({ told_at: at })
    .where('callout_id', '=', calloutId)
    .where('conversation_id', '=', conversationId)
    .execute();
}

/** The callouts of a cause that are not done, newest first. The property's row is held, so that two openings see each other. */
export async function openCalloutsOfCause(
  { db, locks }: Handle,
  propertyId: number,
  cause: string,
): Promise<readonly Callout[]> {
  if (locks) await db.selectFrom('properties').select('id').where('id', '=', propertyId).forUpdate().execute();
  const rows = await db
    .selectFrom('callouts')
    .selectAll()
    .where('cause', '=', cause)
    .where(NOT_DONE)
    .orderBy('id', 'desc')
    .$if(locks, (query) => query.forUpdate())
    .execute();
  return rows.map(toCallout);
}

export async function offerCallout(
  { db }: Handle,
  offer: Omit<Offer, 'passedAt'> & { readonly calloutId: number },
): Promise<void> {
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
  return rows.map((row) => ({ personId: row.person_id, at: row.at, by: row.by, passedAt: row.passed_at }));
}

/** The person has passed the callout on: it is no longer theirs to be asked about in this pass. */
export async function passCallout({ db }: Handle, calloutId: number, personId: number, at: Instant): Promise<void> {
  await db
    .updateTable('offers')
    .set({ passed_at: at })
    .where('callout_id', '=', calloutId)
    .where('person_id', '=', personId)
    .execute();
}
