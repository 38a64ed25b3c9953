import { sayEmergency } from '../../flow/emergency.ts';
import type { Instant } from '../../time/instant.ts';
import { calloutWords } from '../callout/words.ts';
import type { CallTurn, Spoken } from '../carrier.ts';
import { factsOf } from '../guest/facts-of.ts';
import { placeOf } from '../callout/place-of.ts';
import type { Conversation, Tx } from '../records.ts';
import { tellTakerOrOffered } from '../callout/ringing.ts';
import type { Surroundings } from '../surroundings.ts';
import type { CallAbout } from '../work-kinds.ts';

/** After so many turns without a key the words have been heard often enough. */
const MOST_SILENT_TURNS = 2;

/** The signs that the guest's texts named, so that the words fit them. */
async function signsHeard(tx: Tx, conversationId: number): Promise<readonly string[]> {
  const heard = (await tx.entries(conversationId)).map((entry) => entry.heard as { signs?: readonly string[] } | null);
  return heard.flatMap((each) => each?.signs ?? []);
}

async function emergencyWords(desk: Surroundings, tx: Tx, conversation: Conversation): Promise<string> {
  const place = await placeOf(tx, conversation);
  const facts = factsOf(desk.outfit, { ...place, room: conversation.room }, null, desk.now());
  return sayEmergency(desk.flows.book, conversation.lang, await signsHeard(tx, conversation.id), facts);
}

/**
 * What a guest in danger hears who cannot be reached by text: the emergency words, and keys to say whether someone has
 * called. A machine gets the words too: someone may play it back.
 */
export async function guestEmergencyCall(
  desk: Surroundings,
  tx: Tx,
  call: CallAbout<'guest'>,
  { call: workId, turn, digits, machine }: CallTurn,
  now: Instant,
): Promise<Spoken> {
  const conversation = await tx.conversation(call.conversationId);
  const callout = await tx.callout(call.calloutId);
  if (conversation === null || callout === null) return { lang: 'en', sentences: [], nextTurn: null };
  const { lang } = conversation;
  const words = (phrase: 'call-opening' | 'call-menu' | 'call-thanks' | 'call-cannot') =>
    calloutWords(desk, tx, conversation, phrase);
  if (digits === '1' || digits === '2') {
    const called = digits === '1';
    const told = called
      ? 'by voice: the guest says that someone has called the emergency number.'
      : 'by voice: nobody there can call the emergency number. Please call the dispatch centre for them.';
    await tx.addEntry({
      conversationId: conversation.id,
      at: now,
      who: 'guest',
      words: called ? 'key 1: someone has called' : 'key 2: nobody can call',
      heard: null,
      step: null,
      media: [],
      messageId: `call-${workId}-${turn}`,
    });
    await tellTakerOrOffered(tx, callout, `Callout ${callout.id}, ${told} ${callout.brief}`, now);
    return { lang, sentences: [await words(called ? 'call-thanks' : 'call-cannot')], nextTurn: null };
  }
  const emergency = await emergencyWords(desk, tx, conversation);
  if (machine) return { lang, sentences: [await words('call-opening'), emergency], nextTurn: null };
  if (digits === null && turn > MOST_SILENT_TURNS) return { lang, sentences: [emergency], nextTurn: null };
  const opening = turn === 0 ? [await words('call-opening')] : [];
  return { lang, sentences: [...opening, emergency, await words('call-menu')], nextTurn: turn + 1 };
}
