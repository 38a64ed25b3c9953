import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { briefOf, onePerRoom } from './brief-of.ts';
import { calloutWords, guestsOf, textGuest } from './words.ts';
import { addTextTo, takerOf } from './ringing.ts';
import type { Callout, Conversation, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** Matters this close to each other, at one property, are taken for one: a storm, a tripped panel. */
const TOGETHER_WITHIN = 'PT30M';

/** What a callout of a building's own fault is called, and what its key is. */
export const causeAt = (cause: 'power', propertyId: number): string => `${cause} at property ${propertyId}`;

/**
 * The open callout that a matter of the same cause, at the same property, belongs to: one that a guest joined within half an
 * hour; null when there is none. Danger is never among them.
 */
export async function neighboursCallout(
  tx: Tx,
  propertyId: number,
  cause: string,
  now: Instant,
): Promise<Callout | null> {
  for (const callout of await tx.openCalloutsOfCause(propertyId, cause)) {
    const joined = (await tx.conversationsOf(callout.id)).map((share) => share.joinedAt);
    if (joined.some((at) => at >= after(now, `-${TOGETHER_WITHIN}`))) return callout;
  }
  return null;
}

/**
 * A guest joins the callout that is out for their building: its brief lists the rooms, the guests hear that it is the
 * building, and whoever has taken it hears of the new room. Nobody is rung once more.
 */
export async function joinNeighbours(
  desk: Surroundings,
  tx: Tx,
  callout: Callout,
  joining: Conversation,
  now: Instant,
): Promise<Callout> {
  const before = onePerRoom(await guestsOf(tx, callout));
  await tx.joinCallout({ calloutId: callout.id, conversationId: joining.id, at: now });
  const [first = joining, ...others] = await guestsOf(tx, callout);
  const rooms = onePerRoom([first, ...others]);
  if (rooms.length === before.length) return callout;
  const matter = `no power in ${rooms.length} rooms`;
  const joined: Callout = { ...callout, matter, brief: await briefOf(tx, { ...callout, matter }, first, others) };
  await tx.saveCallout(joined);
  for (const guest of before.length === 1 ? rooms : [joining]) {
    await textGuest(tx, guest, await calloutWords(desk, tx, guest, 'building'), false, now);
  }
  const taker = await takerOf(tx, joined);
  if (taker !== null) await addTextTo(tx, taker, `Callout ${callout.id}, one more room. ${joined.brief}`, joined, now);
  return joined;
}
