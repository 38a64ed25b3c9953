import { speakBrief, writeBrief } from './brief.ts';
import type { BriefGuest, BriefInput } from './brief.ts';
import { isHidden } from '../guest/hidden-number.ts';
import type { CalloutPlace } from './place.ts';
import { placeOf } from './place-of.ts';
import type { Callout, Conversation, Tx } from '../records.ts';

/** Whether a text to this phone would not be read: its owner wants none, or the last one did not arrive. */
export async function textsBlocked(tx: Tx, phone: string): Promise<boolean> {
  const { optedOutAt } = await tx.lockPhone(phone);
  return optedOutAt !== null || (await tx.textsLostAt(phone)) !== null;
}

async function guestOf(tx: Tx, conversation: Conversation, { stay }: CalloutPlace): Promise<BriefGuest> {
  const blocked = !isHidden(conversation.phone) && (await textsBlocked(tx, conversation.phone));
  return { conversation, stay, textsBlocked: blocked };
}

/** What tells two guests' rooms apart: the rental; else the room they named; else nothing but their phone. */
const roomKey = ({ rentalId, room, phone }: Conversation): string =>
  rentalId === null ? (room ?? phone) : `rental ${rentalId}`;

/** One conversation for each room, the one that wrote first. */
export function onePerRoom(conversations: readonly Conversation[]): readonly Conversation[] {
  return [...new Map(conversations.toReversed().map((each) => [roomKey(each), each])).values()].toReversed();
}

/** What a brief is made of now, from the conversations that have a part in the callout, the one that wrote first first. */
async function briefInput(
  tx: Tx,
  callout: Pick<Callout, 'matter' | 'urgency'>,
  [conversation, ...others]: readonly [Conversation, ...Conversation[]],
): Promise<BriefInput> {
  const place = await placeOf(tx, conversation);
  const guests: [BriefGuest, ...BriefGuest[]] = [await guestOf(tx, conversation, place)];
  for (const other of onePerRoom([conversation, ...others]).slice(1)) {
    guests.push(await guestOf(tx, other, await placeOf(tx, other)));
  }
  return { callout, guests, property: place.property, entries: await tx.entries(conversation.id) };
}

/**
 * The brief as it is now.
 *
 * @param conversation the one that wrote first
 * @param around characters of what else is in the same text; left out, enough for words to reply
 */
export async function briefOf(
  tx: Tx,
  callout: Pick<Callout, 'matter' | 'urgency'>,
  conversation: Conversation,
  others: readonly Conversation[] = [],
  around?: number,
): Promise<string> {
  const input = await briefInput(tx, callout, [conversation, ...others]);
  return writeBrief({ ...input, ...(around === undefined ? {} : { around }) });
}

/** The brief of a callout as it is said on the phone now; its matter where its conversations are gone. */
export async function spokenBriefOf(
  tx: Tx,
  callout: Callout,
  [first, ...others]: readonly Conversation[],
  longestS: number,
): Promise<{ readonly atOnce: string; readonly details: string }> {
  if (first === undefined) return { atOnce: `${callout.matter}.`, details: '' };
  return speakBrief(await briefInput(tx, callout, [first, ...others]), longestS);
}
