import { ENGINE } from '../../flow/machine.ts';
import type { Facts } from '../../flow/facts.ts';
import { fill } from '../../flow/say.ts';
import { turn } from '../../flow/turn.ts';
import type { Flows, Turn } from '../../flow/turn.ts';
import type { Instant } from '../../time/instant.ts';
import type { Heard, Language } from '../../words/heard.ts';
import type { CalloutPlace } from '../callout/place.ts';
import type { Inbound, Reply } from '../carrier.ts';
import { equalRepliesWith, goesOn } from './conversation-life.ts';
import { factsOf } from './facts-of.ts';
import { flowsOfVersion } from '../flow-versions.ts';
import { hearAt, hoursNamed, knownLanguage, languageOf, placeAlone, standingStep } from './listening.ts';
import { carryOutOrders } from './orders.ts';
import { asksForOutlet, knownOutletOf } from './outlets.ts';
import type { Conversation, GuestPhone, NewConversation, Tx } from '../records.ts';
import { replyTo, watchForQuiet } from './reply.ts';
import type { Surroundings } from '../surroundings.ts';
import { goesToTaker, passToTaker, takenCallout } from '../callout/taken.ts';
import { forPhone } from '../../flow/for-phone.ts';
import { stayOf } from './whereabouts.ts';
import { silenceKey } from '../work-kinds.ts';

/** A text as heard, with the conversation it goes on with, if any, and where that one stands. */
interface Standing {
  readonly conversation: Conversation | null;
  /** Null for a first text, and where a stored state cannot be restored. */
  readonly step: string | null;
  readonly flows: Flows;
  readonly heard: Heard;
}

/** Which conversation a text belongs to depends on what is heard in it (a new room), which depends on the question asked. */
async function hearInPlace(
  desk: Surroundings,
  tx: Tx,
  inbound: Inbound,
  phone: GuestPhone,
  now: Instant,
): Promise<Standing> {
  const latest = await tx.latestConversation(inbound.from);
  if (latest !== null) {
    const flows = await flowsOfVersion(desk, tx, latest.flowHash);
    const step = standingStep(flows, latest);
    const heard = hearAt(desk, inbound.text, { flows, step, knownLanguage: knownLanguage(latest, phone) }, now);
    const stay = latest.rentalId === null ? null : await tx.stay(latest.rentalId);
    const rooms = { latestRoom: stay?.room ?? latest.room, namedRoom: heard.place.room };
    if (goesOn(latest, await tx.openCallouts(latest.id), rooms, now)) {
      return { conversation: latest, step, flows: step === null ? desk.flows : flows, heard: placeAlone(heard) };
    }
  }
  const heard = hearAt(desk, inbound.text, { flows: desk.flows, step: null, knownLanguage: phone.lang }, now);
  return { conversation: null, step: null, flows: desk.flows, heard };
}

/** The lines that stand around those of the turn: an apology, thanks for the place, the question for it, who we are. */
function wordsOf(
  desk: Surroundings,
  standing: Standing,
  moved: Turn,
  facts: Facts,
  lang: Language,
  place: PlaceTalk & { readonly outletAsked: boolean },
): string {
  const { book } = desk.flows;
  const around = (phrase: 'started-anew' | 'place-question' | 'place-thanks' | 'outlet-question' | 'identity') =>
    fill(book.phrases.around[phrase], lang, facts, book);
  const { conversation, step, heard } = standing;
  const lostPlace = conversation !== null && step === null;
  return forPhone(
    [
      ...(lostPlace && !moved.inDanger ? [around('started-anew')] : []),
      ...(place.foundNow && !moved.inDanger ? [around('place-thanks')] : []),
      ...moved.lines,
      ...(place.asked && !moved.inDanger ? [around('place-question')] : []),
      ...(place.outletAsked && !moved.inDanger ? [around('outlet-question')] : []),
      ...(heard.keyword === 'help' ? [around('identity')] : []),
    ].join('\n'),
    lang,
  );
}

interface PlaceTalk {
  /** This text told where the guest is. */
  readonly foundNow: boolean;
  /** This reply asks for it: once, and never as a gate before help. */
  readonly asked: boolean;
}

/** Answers a guest's text: hears it where the conversation stands, moves the flows by it, and writes all that follows. */
export async function answerGuest(
  desk: Surroundings,
  tx: Tx,
  inbound: Inbound,
  phone: GuestPhone,
  now: Instant,
): Promise<Reply> {
  const standing = await hearInPlace(desk, tx, inbound, phone, now);
  const { conversation, step, flows, heard } = standing;
  const keyword = inbound.optOut ?? heard.keyword;
  if (keyword === 'stop' || keyword === 'start') {
    // The carrier answers these itself and blocks or unblocks the number; the desk records it and stays silent.
    await tx.savePhone({ ...phone, optedOutAt: keyword === 'stop' ? now : null });
    if (heard.danger === 'none') return { text: null, entryId: null };
  }
  const lang = languageOf(heard, knownLanguage(conversation, phone), inbound.text);
  if (phone.lang !== lang) await tx.savePhone({ ...(await tx.lockPhone(inbound.from)), lang });

  const stay = await stayOf(tx, conversation, inbound.from, heard.place, now);
  const property =
    stay?.property ?? (conversation?.propertyId == null ? null : await tx.property(conversation.propertyId));
  const room = stay?.room ?? heard.place.room ?? conversation?.room ?? null;
  const met: Met = {
    rentalId: stay?.rentalId ?? null,
    propertyId: property?.id ?? null,
    room,
    lang,
    lastGuestAt: now,
    guestMessages: (conversation?.guestMessages ?? 0) + 1,
  };
  const taken = conversation === null ? null : await takenCallout(tx, conversation.id);
  if (conversation !== null && taken !== null && goesToTaker(heard, flows, step)) {
    const saved = await save(tx, conversation, { ...conversation, ...met });
    await addGuestEntry(tx, saved, inbound, { heard, step }, now);
    const said = { conversation: saved, words: inbound.text, pictures: inbound.media.length, room };
    return passToTaker(desk, tx, said, taken, now);
  }
  const knownOutlet = await knownOutletOf(tx, property?.id ?? null, room, now);
  const facts = factsOf(desk.outfit, { stay, property, room, knownOutlet }, await tx.settingSheet(), now);
  const state = step === null ? null : (conversation?.state ?? null);
  const moved = turn(flows, { state, lang, facts, current: desk.flows.book }, heard);
  if (conversation !== null && step === null) {
    desk.note('a stored state could not be restored; sorted anew', { conversation: conversation.id, step: moved.step });
  }

  const placeTalk: PlaceTalk = {
    foundNow: stay !== null && conversation !== null && conversation.rentalId === null,
    asked: stay === null && conversation?.placeAsked !== true,
  };
  const { orders } = moved;
  const outletAsked = property !== null && room !== null && asksForOutlet(desk, { orders, text: inbound.text, lang });
  const words = wordsOf(desk, standing, moved, facts, lang, { ...placeTalk, outletAsked });
  const saved = await save(tx, conversation, {
    ...met,
    phone: inbound.from,
    flowHash: step === null ? desk.flowHash : (conversation?.flowHash ?? desk.flowHash),
    engine: ENGINE,
    state: moved.state,
    openedAt: conversation?.openedAt ?? now,
    lastReply: words,
    equalReplies: conversation === null ? 1 : equalRepliesWith(conversation, words),
    placeAsked: conversation?.placeAsked === true || placeTalk.asked,
    ending: moved.ending,
    endedAt: moved.ending === null ? null : now,
  });
  await addGuestEntry(tx, saved, inbound, { heard, step }, now);
  const place: CalloutPlace = { stay, property };
  const filledHoursAgo = heard.move === 'refilled' ? hoursNamed(desk, inbound.text, lang, now) : 0;
  await carryOutOrders(
    tx,
    {
      desk,
      flows,
      conversation: saved,
      place,
      turn: moved,
      said: { text: inbound.text, step, knownOutlet },
      filledHoursAgo,
    },
    now,
  );
  await watchForQuiet(tx, saved, now);
  return replyTo(desk, tx, { conversation: saved, moved, words, place }, now);
}

/** What a text tells of its conversation, whoever answers it. */
type Met = Pick<Conversation, 'rentalId' | 'propertyId' | 'room' | 'lang' | 'lastGuestAt' | 'guestMessages'>;

/** The guest's words as an entry; whatever waited for their silence waits no more. */
async function addGuestEntry(
  tx: Tx,
  { id: conversationId }: Conversation,
  { text: words, media, id: messageId }: Inbound,
  made: { readonly heard: Heard; readonly step: string | null },
  now: Instant,
): Promise<void> {
  await tx.addEntry({ conversationId, at: now, who: 'guest', words, ...made, media, messageId });
  await tx.dropWork(silenceKey(conversationId), now);
}

async function save(tx: Tx, conversation: Conversation | null, next: NewConversation): Promise<Conversation> {
  if (conversation === null) return tx.openConversation(next);
  const saved = { ...next, id: conversation.id };
  await tx.saveConversation(saved);
  return saved;
}
