import { DANGER_FLOW, flowOf } from '../../flow/book.ts';
import { ENGINE } from '../../flow/machine.ts';
import type { Facts } from '../../flow/facts.ts';
import { turn } from '../../flow/turn.ts';
import type { Flows, Turn } from '../../flow/turn.ts';
import type { Instant } from '../../time/instant.ts';
import type { Heard, Language } from '../../words/heard.ts';
import type { CalloutPlace } from '../callout/place.ts';
import type { Reply } from '../carrier.ts';
import { goesToTaker, passToTaker, takenOf } from '../callout/taken.ts';
import type { TakenCallout } from '../callout/taken.ts';
import { burstWith, paceOf } from './burst.ts';
import type { Burst } from './burst.ts';
import { bottleOf } from '../due/bottle.ts';
import { equalRepliesWith, goesOn } from './conversation-life.ts';
import { factsOf } from './facts-of.ts';
import { flowsOfVersion } from '../flow-versions.ts';
import { hoursNamed, knownLanguage, languageOf, placeAlone, saysNothing, standingStep } from './listening.ts';
import { carryOutOrders } from './orders.ts';
import { asksForOutlet, knownOutletOf } from './outlets.ts';
import type { Stay } from '../property.ts';
import type { Callout, Conversation, GuestPhone, NewConversation, Tx } from '../records.ts';
import { watchForQuiet } from './reply.ts';
import type { Surroundings } from '../surroundings.ts';
import { stayOf } from './whereabouts.ts';
import { silenceKey } from '../work-kinds.ts';

/** Where words are heard: the question that stands, and the language the guest is known to use. */
export interface HeardAt {
  readonly flows: Flows;
  readonly step: string | null;
  readonly knownLanguage: Language | null;
}

/** What a guest said, by text or in a call. */
export interface GuestWords {
  readonly from: string;
  /** As they stand in the entry. */
  readonly words: string;
  readonly media: readonly string[];
  readonly messageId: string | null;
  readonly hear: (at: HeardAt) => Heard;
  /** The language of the call; null for a text, whose words tell it. */
  readonly lang: Language | null;
  readonly optOut?: 'stop' | 'start' | 'help';
  /** The reply as a text; null for a call, whose words nobody compares with those before, and which no burst can be made of. */
  readonly write: ((made: Moved) => string) | null;
}

/** What words came to that moved the flows. */
export interface Moved {
  /** Before the words; null for the first ones. */
  readonly before: Conversation | null;
  /** The step that stood; null for first words, and where a stored state cannot be restored. */
  readonly step: string | null;
  readonly heard: Heard;
  readonly turn: Turn;
  readonly facts: Facts;
  readonly lang: Language;
  /** These words told where the guest is. */
  readonly foundNow: boolean;
  /** The reply asks where they are: once, and never as a gate before help. */
  readonly asksPlace: boolean;
  /** It asks which outlet it was that works. */
  readonly asksOutlet: boolean;
}

export type WordsTaken =
  /** STOP and START are answered by the carrier. */
  | { readonly did: 'stayed-silent' }
  /** Too many texts in a short time: it is heard and kept, and the guest told once, in this language. */
  | { readonly did: 'slowed'; readonly conversation: Conversation; readonly told: boolean }
  /** Someone has the callout: the words went on to them. */
  | { readonly did: 'passed-on'; readonly conversation: Conversation; readonly to: TakenCallout; readonly reply: Reply }
  | {
      readonly did: 'moved';
      readonly conversation: Conversation;
      readonly moved: Moved;
      readonly flows: Flows;
      readonly place: CalloutPlace;
      /** The reply as a text; '' for a call. */
      readonly words: string;
    };

/** Words as heard, with the conversation they go on with, if any, and where that one stands. */
interface Standing {
  readonly conversation: Conversation | null;
  /** Null for first words, and where a stored state cannot be restored. */
  readonly step: string | null;
  readonly flows: Flows;
  readonly heard: Heard;
  /** Of the conversation. */
  readonly stay: Stay | null;
  /** With these words. Whatever room they name, the phone is the same. */
  readonly burst: Burst;
  /** Of the conversation, newest first. */
  readonly openCallouts: readonly Callout[];
}

/** Which conversation words belong to depends on what is heard in them (a new room), which depends on the question asked. */
async function hearInPlace(
  desk: Surroundings,
  tx: Tx,
  said: GuestWords,
  phone: GuestPhone,
  now: Instant,
): Promise<Standing> {
  const latest = await tx.latestConversation(said.from);
  const burst = burstWith(latest?.burst ?? null, now);
  if (latest !== null) {
    const flows = await flowsOfVersion(desk, tx, latest.flowHash);
    const step = standingStep(flows, latest);
    const heard = said.hear({ flows, step, knownLanguage: knownLanguage(latest, phone) });
    const stay = latest.rentalId === null ? null : await tx.stay(latest.rentalId);
    const rooms = { latestRoom: stay?.room ?? latest.room, namedRoom: heard.place.room };
    const openCallouts = await tx.openCallouts(latest.id);
    if (goesOn(latest, openCallouts, rooms, now)) {
      const flowsNow = step === null ? desk.flows : flows;
      return { conversation: latest, step, flows: flowsNow, heard: placeAlone(heard), stay, burst, openCallouts };
    }
  }
  const heard = said.hear({ flows: desk.flows, step: null, knownLanguage: phone.lang });
  return { conversation: null, step: null, flows: desk.flows, heard, stay: null, burst, openCallouts: [] };
}

/**
 * What no burst of texts may silence: danger, whatever is said while it lasts or is asked about, a cry for help, a wish for
 * a human.
 */
function mustBeAnswered({ heard, step, openCallouts }: Standing, keyword: Heard['keyword']): boolean {
  const inDanger = step !== null && flowOf(step) === DANGER_FLOW;
  const dangerIsOpen = openCallouts.some(({ urgency }) => urgency === 'danger');
  const wantsHuman = heard.topic === 'talk-to-a-person';
  return heard.danger !== 'none' || inDanger || dangerIsOpen || keyword !== null || wantsHuman;
}

/** Takes a guest's words: hears them where the conversation stands, moves the flows by them, and writes all that follows. */
export async function takeWords(
  desk: Surroundings,
  tx: Tx,
  said: GuestWords,
  phone: GuestPhone,
  now: Instant,
): Promise<WordsTaken> {
  const standing = await hearInPlace(desk, tx, said, phone, now);
  const { conversation, step, flows, heard } = standing;
  const keyword = said.optOut ?? heard.keyword;
  const optedOutAt = keyword === 'stop' ? now : keyword === 'start' ? null : phone.optedOutAt;
  if (keyword === 'stop' || keyword === 'start') {
    // The carrier answers these itself and blocks or unblocks the number; the desk records it and stays silent.
    await tx.savePhone({ ...phone, optedOutAt });
    if (heard.danger === 'none') return { did: 'stayed-silent' };
  }
  const lang = said.lang ?? languageOf(heard, knownLanguage(conversation, phone), said.words);
  if (phone.lang !== lang) await tx.savePhone({ ...phone, optedOutAt, lang });

  const stay = standing.stay ?? (await stayOf(tx, conversation, said.from, heard.place, now));
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
    burst: standing.burst,
  };
  const pace = mustBeAnswered(standing, keyword) || said.write === null ? 'answer' : paceOf(standing.burst);
  if (conversation !== null && pace !== 'answer') {
    const saved = await save(tx, conversation, { ...conversation, ...met });
    await addGuestEntry(tx, saved, said, { heard, step }, now);
    return { did: 'slowed', conversation: saved, told: pace === 'tell-once' };
  }
  const taken = await takenOf(tx, standing.openCallouts);
  if (conversation !== null && taken !== null && goesToTaker(heard, flows, step)) {
    const saved = await save(tx, conversation, { ...conversation, ...met });
    await addGuestEntry(tx, saved, said, { heard, step }, now);
    const passed = { conversation: saved, words: said.words, pictures: said.media.length, room };
    const reply = await passToTaker(desk, tx, passed, taken, now);
    return { did: 'passed-on', conversation: saved, to: taken, reply };
  }
  const knownOutlet = await knownOutletOf(tx, property?.id ?? null, room, now);
  // Without a stay nothing may be told of the sheet.
  const sheet = stay === null ? null : await tx.settingSheet();
  const refillHours = stay === null ? null : bottleOf(desk.flows.book, stay, sheet).hours;
  const facts = factsOf(desk.outfit, { stay, property, room, knownOutlet, refillHours }, sheet, now);
  const state = step === null ? null : (conversation?.state ?? null);
  const next = turn(flows, { state, lang, facts, current: desk.flows.book }, heard);
  if (conversation !== null && step === null) {
    desk.note('a stored state could not be restored; sorted anew', { conversation: conversation.id, step: next.step });
  }
  const moved: Moved = {
    before: conversation,
    step,
    heard,
    turn: next,
    facts,
    lang,
    foundNow: stay !== null && conversation !== null && conversation.rentalId === null,
    asksPlace: said.lang === null && stay === null && conversation?.placeAsked !== true,
    asksOutlet:
      property !== null && room !== null && asksForOutlet(desk, { orders: next.orders, text: said.words, lang }),
  };
  const words = said.write === null ? null : said.write(moved);
  const saved = await save(tx, conversation, {
    ...met,
    phone: said.from,
    flowHash: step === null ? desk.flowHash : (conversation?.flowHash ?? desk.flowHash),
    engine: ENGINE,
    state: next.state,
    openedAt: conversation?.openedAt ?? now,
    lastReply: words,
    equalReplies: conversation === null || words === null ? 1 : equalRepliesWith(conversation, words),
    placeAsked: conversation?.placeAsked === true || moved.asksPlace,
    ending: next.ending,
    endedAt: next.ending === null ? null : now,
  });
  const missed = next.missed || (step === null && saysNothing(heard, said.words));
  await addGuestEntry(tx, saved, said, { heard, step, missed }, now);
  const place: CalloutPlace = { stay, property };
  const filledHoursAgo = heard.move === 'refilled' ? hoursNamed(desk, said.words, lang, now) : 0;
  const outletNews = { text: said.words, step, knownOutlet };
  await carryOutOrders(
    tx,
    { desk, flows, conversation: saved, place, turn: next, said: outletNews, filledHoursAgo },
    now,
  );
  await watchForQuiet(tx, saved, conversation, now);
  return { did: 'moved', conversation: saved, moved, flows, place, words: words ?? '' };
}

/** What words tell of their conversation, whoever answers them. */
type Met = Pick<Conversation, 'rentalId' | 'propertyId' | 'room' | 'lang' | 'lastGuestAt' | 'guestMessages' | 'burst'>;

/** The guest's words as an entry; whatever waited for their silence waits no more. */
async function addGuestEntry(
  tx: Tx,
  { id: conversationId }: Conversation,
  { words, media, messageId }: GuestWords,
  made: { readonly heard: Heard; readonly step: string | null; readonly missed?: boolean },
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
