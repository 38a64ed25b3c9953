import type { Tx } from '../desk/records.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import { prepared } from './prepared.ts';

const insertMessage = prepared<{ id: string; phone: string; at: Instant }>()(({ db }, { id, phone, at }) =>
  db
    .insertInto('messages')
    .values({ id, phone, at, reply: null, reply_entry_id: null })
    .onConflict((conflict) => conflict.column('id').doNothing())
    .returning('id'),
);

/** Inserts the carrier's message id, or waits for whoever is inserting it and gives the reply stored with it. */
export async function claimMessage(
  handle: Handle,
  message: { id: string; phone: string; at: Instant },
): ReturnType<Tx['claimMessage']> {
  const [inserted] = await insertMessage(handle, message);
  if (inserted) return { fresh: true };
  // A statement of its own: on Postgres it sees what the first inserter has committed meanwhile.
  const stored = await handle.db
    .selectFrom('messages')
    .select(['reply', 'reply_entry_id'])
    .where('id', '=', message.id)
    .executeTakeFirstOrThrow();
  return { fresh: false, reply: stored.reply, replyEntryId: stored.reply_entry_id };
}

const settle = prepared<{ id: string; reply: string | null; replyEntryId: number | null }>()(
  ({ db }, { id, reply, replyEntryId }) =>
    db.updateTable('messages').set({ reply, reply_entry_id: replyEntryId }).where('id', '=', id),
);

/** Stores what a repeat of the message is answered with. */
export async function settleMessage(
  handle: Handle,
  id: string,
  reply: string | null,
  replyEntryId: number | null,
): Promise<void> {
  await settle(handle, { id, reply, replyEntryId });
}

/** The stored reply of a message id; null when no text with that id was ever settled here. */
export async function storedReply({ db }: Handle, id: string): ReturnType<Tx['storedReply']> {
  const stored = await db
    .selectFrom('messages')
    .select(['reply', 'reply_entry_id'])
    .where('id', '=', id)
    .executeTakeFirst();
  return stored === undefined ? null : { text: stored.reply, entryId: stored.reply_entry_id };
}
