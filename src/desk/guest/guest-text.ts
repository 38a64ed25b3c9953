import { forPhone } from '../../flow/for-phone.ts';
import { factsOfAStranger } from '../../flow/facts.ts';
import { fill } from '../../flow/say.ts';
import type { Instant } from '../../time/instant.ts';
import type { Inbound, Reply } from '../carrier.ts';
import { hearAt } from './listening.ts';
import { addDeskEntry } from './desk-entry.ts';
import type { Conversation, GuestPhone, Tx } from '../records.ts';
import { replyTo, watchReply } from './reply.ts';
import type { Surroundings } from '../surroundings.ts';
import { takeWords } from './take-words.ts';
import type { Moved, WordsTaken } from './take-words.ts';

/** The lines that stand around those of the turn: an apology, thanks for the place, the question for it, who we are. */
function wordsOf(desk: Surroundings, moved: Moved): string {
  const { before, step, heard, turn, facts, lang, foundNow, asksPlace, asksOutlet } = moved;
  const { book } = desk.flows;
  const around = (phrase: 'started-anew' | 'place-question' | 'place-thanks' | 'outlet-question' | 'identity') =>
    fill(book.phrases.around[phrase], lang, facts, book);
  const lostPlace = before !== null && step === null;
  return forPhone(
    [
      ...(lostPlace && !turn.inDanger ? [around('started-anew')] : []),
      ...(foundNow && !turn.inDanger ? [around('place-thanks')] : []),
      ...turn.lines,
      ...(asksPlace && !turn.inDanger ? [around('place-question')] : []),
      ...(asksOutlet && !turn.inDanger ? [around('outlet-question')] : []),
      ...(heard.keyword === 'help' ? [around('identity')] : []),
    ].join('\n'),
    lang,
  );
}

/** Says once that these are too many texts. */
async function tellOfBurst(desk: Surroundings, tx: Tx, conversation: Conversation, now: Instant): Promise<Reply> {
  const { lang, id: conversationId } = conversation;
  const { book } = desk.flows;
  const facts = factsOfAStranger(desk.outfit.name, desk.outfit.directNumber, desk.outfit.emergencyNumber);
  const words = forPhone(fill(book.phrases.around['too-many-texts'], lang, facts, book), lang);
  const entry = await addDeskEntry(tx, { conversationId, words, step: null }, now);
  return { text: words, entryId: entry.id };
}

/** Answers a guest's text: hears it where the conversation stands, moves the flows by it, and writes all that follows. */
export async function answerGuest(
  desk: Surroundings,
  tx: Tx,
  inbound: Inbound,
  phone: GuestPhone,
  now: Instant,
): Promise<Reply> {
  const said = {
    from: inbound.from,
    words: inbound.text,
    media: inbound.media,
    messageId: inbound.id,
    hear: (at: Parameters<typeof hearAt>[2]) => hearAt(desk, inbound.text, at, now),
    lang: null,
    write: (moved: Moved) => wordsOf(desk, moved),
    ...(inbound.optOut === undefined ? {} : { optOut: inbound.optOut }),
  };
  const taken = await takeWords(desk, tx, said, phone, now);
  const { reply, danger } = await answerTo(desk, tx, taken, now);
  await watchReply(desk, tx, reply, { phone: inbound.from, danger }, now);
  return reply;
}

const SILENCE: Reply = { text: null, entryId: null };

/** The reply to words that were taken, and whether it is one of danger. */
async function answerTo(
  desk: Surroundings,
  tx: Tx,
  taken: WordsTaken,
  now: Instant,
): Promise<{ readonly reply: Reply; readonly danger: boolean }> {
  switch (taken.did) {
    case 'stayed-silent':
      return { reply: SILENCE, danger: false };
    case 'passed-on':
      return { reply: taken.reply, danger: taken.to.callout.urgency === 'danger' };
    case 'slowed':
      return { reply: taken.told ? await tellOfBurst(desk, tx, taken.conversation, now) : SILENCE, danger: false };
    case 'moved': {
      const { conversation, moved, words, place } = taken;
      const reply = await replyTo(desk, tx, { conversation, moved: moved.turn, words, place }, now);
      return { reply, danger: moved.turn.inDanger };
    }
    default:
      return taken satisfies never;
  }
}
