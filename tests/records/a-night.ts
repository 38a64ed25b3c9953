import type { Conversation, Entry, NewConversation, NewEntry, NewWork, Records, Tx } from '../../src/desk/records.ts';
import { instantOf } from '../../src/time/instant.ts';
import type { Instant } from '../../src/time/instant.ts';

/** 2:10 in the morning in Denver. */
export const NIGHT = instantOf('2026-11-25T09:10:00Z');
export const GUEST = '+19705550101';
export const OTHER_GUEST = '+19705550102';

export const FLOW_HASH = 'flow-of-the-test';

export const conversationOf = (phone: string, changes: Partial<NewConversation> = {}): NewConversation => ({
  phone,
  rentalId: null,
  propertyId: null,
  room: null,
  lang: 'en',
  flowHash: FLOW_HASH,
  engine: 1,
  state: '{"value":"opening"}',
  openedAt: NIGHT,
  lastGuestAt: NIGHT,
  guestMessages: 1,
  lastReply: null,
  equalReplies: 0,
  placeAsked: false,
  burst: null,
  ending: null,
  endedAt: null,
  ...changes,
});

export const entryIn = (conversationId: number, words: string, changes: Partial<NewEntry> = {}): NewEntry => ({
  conversationId,
  at: NIGHT,
  who: 'guest',
  words,
  heard: null,
  step: null,
  media: [],
  messageId: null,
  ...changes,
});

/** Opens a conversation of a phone, as the desk does: the phone first. */
export async function begun(tx: Tx, phone: string, changes: Partial<NewConversation> = {}): Promise<Conversation> {
  await tx.keepFlowVersion(FLOW_HASH, {}, NIGHT);
  await tx.lockPhone(phone);
  return tx.openConversation(conversationOf(phone, changes));
}

/** One text as the desk takes it: claimed, its phone locked, entered, answered. Gives the reply. */
export async function take(tx: Tx, id: string, phone: string, words: string): Promise<string | null> {
  const claim = await tx.claimMessage({ id, phone, at: NIGHT });
  if (!claim.fresh) return claim.reply;
  await tx.lockPhone(phone);
  const conversation = (await tx.latestConversation(phone)) ?? (await begun(tx, phone, { guestMessages: 0 }));
  const number = conversation.guestMessages + 1;
  const reply = `reply ${number} to ${id}`;
  await tx.addEntry(entryIn(conversation.id, words, { messageId: id }));
  const answer = await tx.addEntry(entryIn(conversation.id, reply, { who: 'desk' }));
  await tx.saveConversation({ ...conversation, guestMessages: number, lastReply: reply });
  await tx.settleMessage(id, reply, answer.id);
  return reply;
}

export async function entriesOf(records: Records, phone: string): Promise<readonly Entry[]> {
  return records.read(async (tx) => {
    const conversation = await tx.latestConversation(phone);
    return conversation ? tx.entries(conversation.id) : [];
  });
}

export const workFor = (
  phone: string | null,
  kind: string,
  dueAt: Instant,
  changes: Partial<NewWork> = {},
): NewWork => ({
  kind,
  dueAt,
  notAfter: null,
  key: null,
  phone,
  danger: false,
  payload: { kind },
  ...changes,
});

/** Something that several must reach before any of them goes on. */
export function meeting(size: number): () => Promise<void> {
  let come = 0;
  const { promise, resolve } = Promise.withResolvers<void>();
  return () => {
    come += 1;
    if (come === size) resolve();
    return promise;
  };
}

/**
 * Lets a second transaction come to what a first one holds: the first runs `hold`, then waits while the second starts
 * and the records are asked other things, then ends. A lock keeps the second waiting through that; without one it has
 * long read what the first was about to change.
 */
export async function behind<T>(
  records: Records,
  hold: (tx: Tx) => Promise<() => Promise<void>>,
  second: (tx: Tx) => Promise<T>,
): Promise<T> {
  const held = Promise.withResolvers<void>();
  const go = Promise.withResolvers<void>();
  const first = records.transaction(async (tx) => {
    const change = await hold(tx);
    held.resolve();
    await go.promise;
    await change();
  });
  await held.promise;
  const after = records.transaction(second);
  for (let asked = 0; asked < 10; asked += 1) await records.nextDueAt();
  go.resolve();
  await first;
  return after;
}
