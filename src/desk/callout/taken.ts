import { DANGER_FLOW, flowOf } from '../../flow/book.ts';
import type { Flows } from '../../flow/turn.ts';
import type { Person } from '../../roster/roster.ts';
import type { Heard } from '../../words/heard.ts';
import type { Instant } from '../../time/instant.ts';
import { calloutWords } from './words.ts';
import type { Reply } from '../carrier.ts';
import { addDeskEntry } from '../guest/desk-entry.ts';
import type { Callout, Conversation, Tx } from '../records.ts';
import { addTextTo, takerOf } from './ringing.ts';
import type { Surroundings } from '../surroundings.ts';
import { firstName } from './taking.ts';

export interface TakenCallout {
  readonly callout: Callout;
  readonly taker: Person;
}

/** Whether the desk's own danger questions stand: their answer is the desk's, whoever has the callout. */
export function asksAboutDanger(flows: Flows, step: string | null): boolean {
  return step !== null && flowOf(step) === DANGER_FLOW && flows.steps.get(step)?.hears === 'yes-no';
}

/** The callout of a conversation that someone has taken, and who; null where nobody has. */
export async function takenCallout(tx: Tx, conversationId: number): Promise<TakenCallout | null> {
  return takenOf(tx, await tx.openCallouts(conversationId));
}

/** Of some callouts, the first that someone has taken, and who. */
export async function takenOf(tx: Tx, callouts: readonly Callout[]): Promise<TakenCallout | null> {
  for (const callout of callouts) {
    const taker = await takerOf(tx, callout);
    if (taker !== null) return { callout, taker };
  }
  return null;
}

/** Whether a text goes on to the one who took the callout: all do but danger, and the answer to the danger questions. */
export function goesToTaker(heard: Heard, flows: Flows, step: string | null): boolean {
  return heard.danger === 'none' && heard.keyword === null && !asksAboutDanger(flows, step);
}

/** Text parts are dear, and a guest may write a page: what is longer is in the conversation's entries. */
const MOST_CHARACTERS = 1200;

/**
 * A guest's text goes on to the one who took their callout, as it was written. The guest gets one short line, the first
 * time, and then silence: a human is talking with them.
 */
export async function passToTaker(
  desk: Surroundings,
  tx: Tx,
  said: {
    readonly conversation: Conversation;
    readonly words: string;
    readonly pictures: number;
    readonly room: string | null;
  },
  { callout, taker }: TakenCallout,
  now: Instant,
): Promise<Reply> {
  const { conversation, words, pictures, room } = said;
  const shares = await tx.conversationsOf(callout.id);
  const from = shares.length > 1 && room !== null ? `, ${room}` : '';
  const sent = pictures === 0 ? '' : ` (and ${pictures} picture${pictures === 1 ? '' : 's'})`;
  const body = `Callout ${callout.id}${from}, the guest: "${words.slice(0, MOST_CHARACTERS)}"${sent}`;
  await addTextTo(tx, taker, body, callout, now);
  const share = shares.find((each) => each.conversationId === conversation.id);
  if (share?.toldAt != null) return { text: null, entryId: null };
  await tx.markTold(callout.id, conversation.id, now);
  const line = await calloutWords(desk, tx, conversation, 'goes-to-taker', { name: firstName(taker) });
  const entry = await addDeskEntry(tx, { conversationId: conversation.id, words: line, step: null }, now);
  return { text: line, entryId: entry.id };
}
