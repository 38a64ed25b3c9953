import type { IncomingCall, NewIncomingCall, Recording } from '../desk/records.ts';
import type { Handle } from './engine.ts';
import type { Row } from './schema.ts';

function toCall(row: Row<'incoming_calls'>): IncomingCall {
  return {
    id: row.id,
    callId: row.call_id,
    phone: row.phone,
    lang: row.lang,
    conversationId: row.conversation_id,
    waitsFor: row.waits_for,
    standing: row.standing_json,
    openedAt: row.opened_at,
    endedAt: row.ended_at,
  };
}

function columnsOf(call: NewIncomingCall): Omit<Row<'incoming_calls'>, 'id'> {
  return {
    call_id: call.callId,
    phone: call.phone,
    lang: call.lang,
    conversation_id: call.conversationId,
    waits_for: call.waitsFor,
    standing_json: call.standing,
    opened_at: call.openedAt,
    ended_at: call.endedAt,
  };
}

/** @throws a unique violation when the call was opened before, a foreign key error when the phone was not locked first. */
export async function openIncomingCall({ db }: Handle, call: NewIncomingCall): Promise<IncomingCall> {
  const row = await db.insertInto('incoming_calls').values(columnsOf(call)).returning('id').executeTakeFirstOrThrow();
  return { ...call, id: row.id };
}

/** A call by the carrier's id, held until the transaction ends. */
export async function incomingCall({ db, locks }: Handle, callId: string): Promise<IncomingCall | null> {
  const row = await db
    .selectFrom('incoming_calls')
    .selectAll()
    .where('call_id', '=', callId)
    .$if(locks, (query) => query.forUpdate())
    .executeTakeFirst();
  return row === undefined ? null : toCall(row);
}

/** @throws when there is no call with that id. */
export async function saveIncomingCall({ db }: Handle, call: IncomingCall): Promise<void> {
  await db
    .updateTable('incoming_calls')
    .set(columnsOf(call))
    .where('id', '=', call.id)
    .returning('id')
    .executeTakeFirstOrThrow();
}

/** The call whose caller waits longest for a callout's answer, held until the transaction ends. */
export async function callWaitingFor({ db, locks }: Handle, calloutId: number): Promise<IncomingCall | null> {
  const row = await db
    .selectFrom('incoming_calls')
    .selectAll()
    .where('waits_for', '=', calloutId)
    .where('ended_at', 'is', null)
    .orderBy('id')
    .limit(1)
    .$if(locks, (query) => query.forUpdate())
    .executeTakeFirst();
  return row === undefined ? null : toCall(row);
}

/** Keeps a recording once, however often it is told. */
export async function addRecording({ db }: Handle, recording: Recording): Promise<void> {
  await db
    .insertInto('recordings')
    .values({
      callout_id: recording.calloutId,
      conversation_id: recording.conversationId,
      address: recording.address,
      length_s: recording.lengthS,
      at: recording.at,
    })
    .onConflict((conflict) => conflict.column('address').doNothing())
    .execute();
}

/** Messages left for whoever takes the callout, oldest first. */
export async function recordingsOf({ db }: Handle, calloutId: number): Promise<readonly Recording[]> {
  const rows = await db
    .selectFrom('recordings')
    .selectAll()
    .where('callout_id', '=', calloutId)
    .orderBy('id')
    .execute();
  return rows.map((row) => ({
    calloutId: row.callout_id,
    conversationId: row.conversation_id,
    address: row.address,
    lengthS: row.length_s,
    at: row.at,
  }));
}
