import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Callout, Conversation, Tx } from '../records.ts';
import { isHidden } from '../guest/hidden-number.ts';
import { guestCallKey } from '../work-kinds.ts';

/** How often a guest is called whose phone is not answered, and how long after the call before. */
const MOST_TRIES = 3;
const AGAIN_AFTER = 'PT1M';

/**
 * The desk's voice calls a guest in danger who cannot be reached by text. Nothing happens while such a call is about to be
 * placed.
 *
 * @param tried how often it was tried before
 * @returns false when it has been tried often enough, or the number is hidden
 */
export async function callGuest(
  tx: Tx,
  callout: Callout,
  conversation: Conversation,
  now: Instant,
  tried = 0,
): Promise<boolean> {
  if (tried >= MOST_TRIES || isHidden(conversation.phone)) return false;
  await tx.addWork({
    kind: 'call',
    dueAt: tried === 0 ? now : after(now, AGAIN_AFTER),
    notAfter: null,
    key: guestCallKey(conversation.id),
    phone: null,
    danger: true,
    payload: {
      phone: conversation.phone,
      about: 'guest',
      calloutId: callout.id,
      conversationId: conversation.id,
      tried: tried + 1,
    },
  });
  return true;
}
