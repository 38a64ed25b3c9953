import type { Turn } from '../../flow/turn.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { openCallout } from '../callout/callouts.ts';
import type { CalloutPlace } from '../callout/place.ts';
import type { Reply } from '../carrier.ts';
import { MOST_EQUAL_REPLIES, QUIET_AFTER } from './conversation-life.ts';
import { addDeskEntry } from './desk-entry.ts';
import type { Conversation, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { quietKey, replyWatchKey } from '../work-kinds.ts';

/** How long a reply's delivery may stay unconfirmed before it is sent as a text of its own. */
const CONFIRM_WITHIN = 'PT30S';
/** How long a lost reply is still worth sending again: as long as its conversation may go on without a word. */
const WORTH_REPEATING = QUIET_AFTER;

/**
 * Looks after four hours whether the conversation has gone quiet; where a look is planned already, that one finds what was
 * written since and looks again later. An ended conversation needs no looking after.
 */
export async function watchForQuiet(
  tx: Tx,
  conversation: Conversation,
  before: Pick<Conversation, 'ending'> | null,
  now: Instant,
): Promise<void> {
  const planned = before !== null && before.ending === null;
  if (conversation.ending !== null || planned) return;
  await lookForQuiet(tx, conversation.id, after(now, QUIET_AFTER));
}

/** Plans a look, unless one is planned. */
export async function lookForQuiet(tx: Tx, conversationId: number, dueAt: Instant): Promise<void> {
  await tx.addWork({
    kind: 'quiet',
    dueAt,
    notAfter: null,
    key: quietKey(conversationId),
    phone: null,
    danger: false,
    payload: { conversationId },
  });
}

/** The reply as an entry; or silence, after ten equal replies in a row, until a person has looked. Danger is excepted. */
export async function replyTo(
  desk: Surroundings,
  tx: Tx,
  said: {
    readonly conversation: Conversation;
    readonly moved: Turn;
    readonly words: string;
    readonly place: CalloutPlace;
  },
  now: Instant,
): Promise<Reply> {
  const { conversation, moved, words, place } = said;
  if (conversation.equalReplies > MOST_EQUAL_REPLIES && !moved.inDanger) {
    const matter = 'the same reply over and over';
    await openCallout(desk, tx, { urgency: 'tonight', matter, conversation, place }, now);
    return { text: null, entryId: null };
  }
  const entry = await addDeskEntry(tx, { conversationId: conversation.id, words, step: moved.step }, now);
  return { text: words, entryId: entry.id };
}

/** Has a reply sent again as a text of its own, unless its delivery is confirmed soon; where the carrier reports that. */
export async function watchReply(
  desk: Surroundings,
  tx: Tx,
  { text, entryId }: Reply,
  to: { readonly phone: string; readonly danger: boolean },
  now: Instant,
): Promise<void> {
  if (text === null || entryId === null || !desk.carrier.reportsDelivery) return;
  await tx.addWork({
    kind: 'reply-watch',
    dueAt: after(now, CONFIRM_WITHIN),
    notAfter: after(now, WORTH_REPEATING),
    key: replyWatchKey(entryId),
    phone: null,
    danger: to.danger,
    payload: { to: to.phone, body: text, entryId },
  });
}
