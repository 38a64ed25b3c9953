import { forPhone } from '../../flow/for-phone.ts';
import type { Phrases } from '../../flow/document.ts';
import { fill } from '../../flow/say.ts';
import type { CalloutFacts } from '../../flow/say.ts';
import type { Instant } from '../../time/instant.ts';
import { factsOf } from '../guest/facts-of.ts';
import { placeOf } from './place-of.ts';
import type { Callout, Conversation, Tx } from '../records.ts';
import { addDeskEntry } from '../guest/desk-entry.ts';
import type { Surroundings } from '../surroundings.ts';

export type CalloutPhrase = keyof Phrases['callouts'];

/** A sentence about a callout in a guest's language, in today's wording, with the numbers of the place they are at. */
export async function calloutWords(
  desk: Surroundings,
  tx: Tx,
  conversation: Conversation,
  phrase: CalloutPhrase,
  said: CalloutFacts = {},
): Promise<string> {
  const { book } = desk.flows;
  const place = await placeOf(tx, conversation);
  const facts = factsOf(desk.outfit, { ...place, room: conversation.room }, null, desk.now());
  const property = place.property?.name ?? '';
  return forPhone(
    fill(book.phrases.callouts[phrase], conversation.lang, facts, book, { property, ...said }),
    conversation.lang,
  );
}

/** A text to a guest out of their conversation, about a callout. Nothing is sent to someone who wants no texts. */
export async function textGuest(
  tx: Tx,
  conversation: Conversation,
  body: string,
  danger: boolean,
  now: Instant,
): Promise<void> {
  const entry = await addDeskEntry(tx, { conversationId: conversation.id, words: body, step: null }, now);
  const { optedOutAt } = await tx.lockPhone(conversation.phone);
  if (optedOutAt !== null) return;
  await tx.addWork({
    kind: 'text',
    dueAt: now,
    notAfter: null,
    key: null,
    phone: conversation.phone,
    danger,
    payload: { to: conversation.phone, body, entryId: entry.id },
  });
}

/** The conversations of a callout's guests, the first one first. */
export async function guestsOf(tx: Tx, callout: Callout): Promise<readonly Conversation[]> {
  const shares = await tx.conversationsOf(callout.id);
  const conversations: Conversation[] = [];
  for (const { conversationId } of shares) {
    const conversation = await tx.conversation(conversationId);
    if (conversation !== null) conversations.push(conversation);
  }
  return conversations;
}

/** The same sentence to every guest of a callout, to each in their language. */
export async function tellGuests(
  desk: Surroundings,
  tx: Tx,
  callout: Callout,
  phrase: CalloutPhrase,
  said: CalloutFacts,
  now: Instant,
): Promise<void> {
  for (const conversation of await guestsOf(tx, callout)) {
    const words = await calloutWords(desk, tx, conversation, phrase, said);
    await textGuest(tx, conversation, words, callout.urgency === 'danger', now);
  }
}
