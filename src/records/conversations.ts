import type { Conversation, Entry, NewConversation, NewEntry } from '../desk/records.ts';
import type { Handle } from './engine.ts';
import { prepared } from './prepared.ts';
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
    burst: row.burst_since === null ? null : { since: row.burst_since, texts: row.burst_texts },
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
    burst_since: conversation.burst?.since ?? null,
    burst_texts: conversation.burst?.texts ?? 0,
    ending: conversation.ending,
    ended_at: conversation.endedAt,
  };
}

const latestRow = prepared<{ phone: string }>()(({ db }, { phone }) =>
  db
    .selectFrom('conversations')
    .selectAll()
    .where('phone', '=', phone)
    .orderBy('last_guest_at', 'desc')
    .orderBy('id', 'desc')
    .limit(1)
    .limit(1),
);

/** The conversation of the phone with the latest guest text; of two at the same instant, the newer. Not held either. */
export async function latestConversation(handle: Handle, phone: string): Promise<Conversation | null> {
  const [row] = await latestRow(handle, { phone });
  return row ? toConversation(row) : null;
}

/** Not held: whoever changes a conversation holds its phone first, and then looks again. */
export async function conversation({ db }: Handle, id: number): Promise<Conversation | null> {
  const row = await db.selectFrom('conversations').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? toConversation(row) : null;
}

type Columns = Omit<Row<'conversations'>, 'id'>;

/** The columns one by one: a spread would ask the blanks of a prepared query which names they have. */
const named = (row: Columns): Columns => ({
  phone: row.phone,
  rental_id: row.rental_id,
  property_id: row.property_id,
  room: row.room,
  lang: row.lang,
  flow_hash: row.flow_hash,
  engine: row.engine,
  state: row.state,
  opened_at: row.opened_at,
  last_guest_at: row.last_guest_at,
  guest_messages: row.guest_messages,
  last_reply: row.last_reply,
  equal_replies: row.equal_replies,
  place_asked: row.place_asked,
  ending: row.ending,
  ended_at: row.ended_at,
  burst_since: row.burst_since,
  burst_texts: row.burst_texts,
});

const insertConversation = prepared<Columns>()(({ db }, row) =>
  db.insertInto('conversations').values(named(row)).returning('id'),
);

const updateConversation = prepared<Row<'conversations'>>()(({ db }, row) =>
  db.updateTable('conversations').set(named(row)).where('id', '=', row.id).returning('id'),
);

/** @throws a foreign key error when the phone was not locked first or the flow version not kept. */
export async function openConversation(handle: Handle, opened: NewConversation): Promise<Conversation> {
  const [row] = await insertConversation(handle, columnsOf(opened));
  if (row === undefined) throw new Error('Records: a conversation was inserted and got no number.');
  return { ...opened, id: row.id };
}

/** @throws when there is no conversation with that id. */
export async function saveConversation(handle: Handle, changed: Conversation): Promise<void> {
  const [row] = await updateConversation(handle, { ...columnsOf(changed), id: changed.id });
  if (row === undefined) throw new Error(`Records: there is no conversation ${changed.id}.`);
}

type EntryColumns = Omit<Row<'entries'>, 'id'>;

const insertEntry = prepared<EntryColumns>()(({ db }, row) =>
  db
    .insertInto('entries')
    .values({
      conversation_id: row.conversation_id,
      at: row.at,
      who: row.who,
      words: row.words,
      heard_json: row.heard_json,
      step: row.step,
      media_json: row.media_json,
      message_id: row.message_id,
      missed: row.missed,
    })
    .returning('id'),
);

export function entryColumnsOf(entry: NewEntry): EntryColumns {
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
export async function addEntry(handle: Handle, entry: NewEntry): Promise<Entry> {
  const [row] = await insertEntry(handle, entryColumnsOf(entry));
  if (row === undefined) throw new Error('Records: an entry was inserted and got no number.');
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
