import type { Conversation, Entry, NewConversation, NewEntry } from '../desk/records.ts';
import type { Handle } from './engine.ts';
import type { Row } from './schema.ts';
import { yesNo } from './schema.ts';

export function toConversation(row: Row<'conversations'>): Conversation {
  return {
    id: row.id,
    phone: row.phone,
    rentalId: row.rental_id,
    propertyId: row.property_id,
    room: row.room,
    lang: row.lang,
    flowHash: row.flow_hash,
    engine: row.engine,
    state: row.state,
    openedAt: row.opened_at,
    lastGuestAt: row.last_guest_at,
    guestMessages: row.guest_messages,
    lastReply: row.last_reply,
    equalReplies: row.equal_replies,
    placeAsked: row.place_asked === 1,
    ending: row.ending,
    endedAt: row.ended_at,
  };
}

export function columnsOf(conversation: NewConversation): Omit<Row<'conversations'>, 'id'> {
  return {
    phone: conversation.phone,
    rental_id: conversation.rentalId,
    property_id: conversation.propertyId,
    room: conversation.room,
    lang: conversation.lang,
    flow_hash: conversation.flowHash,
    engine: conversation.engine,
    state: conversation.state,
    opened_at: conversation.openedAt,
    last_guest_at: conversation.lastGuestAt,
    guest_messages: conversation.guestMessages,
    last_reply: conversation.lastReply,
    equal_replies: conversation.equalReplies,
    place_asked: yesNo(conversation.placeAsked),
    ending: conversation.ending,
    ended_at: conversation.endedAt,
  };
}

/** The conversation of the phone with the latest guest text; of two at the same instant, the newer. Not held either. */
export async function latestConversation({ db }: Handle, phone: string): Promise<Conversation | null> {
  const row = await db
    .selectFrom('conversations')
    .selectAll()
    .where('phone', '=', phone)
    .orderBy('last_guest_at', 'desc')
    .orderBy('id', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row ? toConversation(row) : null;
}

/** Not held: whoever changes a conversation holds its phone first, and then looks again. */
export async function conversation({ db }: Handle, id: number): Promise<Conversation | null> {
  const row = await db.selectFrom('conversations').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? toConversation(row) : null;
}

/** @throws a foreign key error when the phone was not locked first or the flow version not kept. */
export async function openConversation({ db }: Handle, opened: NewConversation): Promise<Conversation> {
  const row = await db.insertInto('conversations').values(columnsOf(opened)).returning('id').executeTakeFirstOrThrow();
  return { ...opened, id: row.id };
}

/** @throws when there is no conversation with that id. */
export async function saveConversation({ db }: Handle, changed: Conversation): Promise<void> {
  await db
    .updateTable('conversations')
    .set(columnsOf(changed))
    .where('id', '=', changed.id)
    .returning('id')
    .executeTakeFirstOrThrow();
}

export function entryColumnsOf(entry: NewEntry) {
  return {
    conversation_id: entry.conversationId,
    at: entry.at,
    who: entry.who,
    words: entry.words,
    heard_json: JSON.stringify(entry.heard ?? null),
    step: entry.step,
    media_json: JSON.stringify(entry.media),
    message_id: entry.messageId,
    missed: yesNo(entry.missed === true),
  };
}

/** @throws a unique violation when an entry has the same message id. */
export async function addEntry({ db }: Handle, entry: NewEntry): Promise<Entry> {
  const row = await db.insertInto('entries').values(entryColumnsOf(entry)).returning('id').executeTakeFirstOrThrow();
  return { ...entry, id: row.id };
}

function toEntry(row: Row<'entries'>): Entry {
  return {
    id: row.id,
    conversationId: row.conversation_id,
    at: row.at,
    who: row.who,
    words: row.words,
    heard: JSON.parse(row.heard_json) as unknown,
    step: row.step,
    media: JSON.parse(row.media_json) as string[],
    messageId: row.message_id,
    missed: row.missed === 1,
  };
}

/** The entries of a conversation in the order in which they were written. */
export async function entries({ db }: Handle, conversationId: number): Promise<readonly Entry[]> {
  const rows = await db
    .selectFrom('entries')
    .selectAll()
    .where('conversation_id', '=', conversationId)
    .orderBy('id')
    .execute();
  return rows.map(toEntry);
}

export async function entry({ db }: Handle, id: number): Promise<Entry | null> {
  const row = await db.selectFrom('entries').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? toEntry(row) : null;
}
