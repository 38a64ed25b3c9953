import type { Instant } from '../../time/instant.ts';
import { openCallout } from './callouts.ts';
import { callGuest } from '../call/guest-call.ts';
import { placeOf } from './place-of.ts';
import type { Conversation, Tx } from '../records.ts';
import { addTextTo, takerOf } from './ringing.ts';
import type { Surroundings } from '../surroundings.ts';
import type { TextWork } from '../work-kinds.ts';

/** The conversation of an entry. */
async function conversationOf(tx: Tx, entryId: number): Promise<Conversation | null> {
  const entry = await tx.entry(entryId);
  return entry === null ? null : tx.conversation(entry.conversationId);
}

/**
 * A reply could not be delivered: that is on record, so that briefs say to call. In danger the guest is called at once,
 * while the reply goes out again as a text of its own.
 */
export async function replyLost(tx: Tx, entryId: number, now: Instant): Promise<void> {
  const conversation = await conversationOf(tx, entryId);
  if (conversation === null) return;
  await tx.saveTextsLost(conversation.phone, now);
  const danger = (await tx.openCallouts(conversation.id)).find((callout) => callout.urgency === 'danger');
  if (danger !== undefined) await callGuest(tx, danger, conversation, now);
}

/** A reply has arrived: texts to the phone do. */
export async function replyArrived(tx: Tx, entryId: number): Promise<void> {
  const conversation = await conversationOf(tx, entryId);
  if (conversation !== null) await tx.saveTextsLost(conversation.phone, null);
}

/**
 * A text to a guest is lost for good: by text they cannot be reached. In danger the desk's voice calls them; otherwise a
 * human has to, and is told so: whoever has their callout, or with none open, a new one. Notices that nobody asked for do
 * not count, nor does a second text after one that was lost; a lost reply that went out again in vain does.
 */
export async function guestUnreached(desk: Surroundings, tx: Tx, work: TextWork, now: Instant): Promise<void> {
  if (work.kind === 'notice' || work.payload.entryId === null) return;
  const conversation = await conversationOf(tx, work.payload.entryId);
  if (conversation === null) return;
  if (work.kind !== 'reply-watch' && (await tx.textsLostAt(conversation.phone)) !== null) return;
  await tx.saveTextsLost(conversation.phone, now);
  const open = await tx.openCallouts(conversation.id);
  const danger = open.find((callout) => callout.urgency === 'danger');
  if (danger !== undefined) await callGuest(tx, danger, conversation, now);
  for (const callout of open) {
    const taker = await takerOf(tx, callout);
    const words = `Callout ${callout.id}: CALL, TEXTS BLOCKED. My texts do not reach the guest. ${callout.brief}`;
    if (taker !== null) await addTextTo(tx, taker, words, callout, now);
  }
  if (open.length > 0) return; // the next round's brief begins with CALL
  const place = await placeOf(tx, conversation);
  await openCallout(desk, tx, { urgency: 'tonight', matter: 'texts do not arrive', conversation, place }, now);
}
