import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Callout, Conversation } from '../records.ts';
import { sameRoom } from './whereabouts.ts';

/** After this much silence a conversation is over, unless a callout is open. */
export const QUIET_AFTER = 'PT4H';
/** A text this long after an ending returns to the matter. */
const RETURN_WITHIN = 'PT12H';
/** Equal replies in a row after which the desk falls silent until a person looks. */
export const MOST_EQUAL_REPLIES = 10;

/**
 * Whether a text goes on with the phone's latest conversation. It does while the conversation runs, while a callout of it
 * is open, and for twelve hours after it ended. A new room is a new conversation and inherits nothing.
 *
 * @param latestRoom the room the latest conversation is about, where one is known
 * @param namedRoom the room this text names, if it names one
 */
export function goesOn(
  latest: Conversation,
  openCallouts: readonly Callout[],
  rooms: { readonly latestRoom: string | null; readonly namedRoom: string | undefined },
  now: Instant,
): boolean {
  const { latestRoom, namedRoom } = rooms;
  if (latestRoom !== null && namedRoom !== undefined && !sameRoom(latestRoom, namedRoom)) return false;
  if (openCallouts.length > 0) return true;
  if (latest.endedAt !== null) return now < after(latest.endedAt, RETURN_WITHIN);
  return now < after(latest.lastGuestAt, QUIET_AFTER);
}

/** How many equal replies in a row there are with this one. */
export function equalRepliesWith(conversation: Conversation, reply: string): number {
  return conversation.lastReply === reply ? conversation.equalReplies + 1 : 1;
}
