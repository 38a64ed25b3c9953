import type { CalloutPlace } from './place.ts';
import type { Conversation, Tx } from '../records.ts';

/** What is known of the place a conversation is about: the stay with its property, the property alone, or nothing. */
export async function placeOf(tx: Tx, conversation: Conversation): Promise<CalloutPlace> {
  const stay = conversation.rentalId === null ? null : await tx.stay(conversation.rentalId);
  const property =
    stay?.property ?? (conversation.propertyId === null ? null : await tx.property(conversation.propertyId));
  return { stay, property };
}
