import { whoIsOnCall } from '../roster/on-call.ts';
import type { Person } from '../roster/on-call.ts';
import { after, nextLocalHour } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import { writeBrief } from './brief.ts';
import type { Callout, Conversation, Tx, Urgency } from './records.ts';
import type { Property, Stay } from './property.ts';
import type { CalloutRound } from './work-kinds.ts';
import { ringKey } from './work-kinds.ts';

/** How long a round waits before the next, by urgency. */
const ROUND_EVERY: Readonly<Record<Urgency, string>> = { danger: 'PT1M', tonight: 'PT10M', morning: 'PT1H' };
/** From this round on the next on the list and the owner are tried too. */
const WIDER_FROM_ROUND = 2;
/** Daybreak, local time. */
export const MORNING_HOUR = 7;

/** A callout, with what is known of the place it is for. */
export interface CalloutPlace {
  readonly stay: Stay | null;
  readonly property: Property | null;
}

export interface CalloutRequest {
  readonly urgency: Urgency;
  /** A few words, for the brief. */
  readonly matter: string;
  readonly conversation: Conversation;
  readonly place: CalloutPlace;
  /** Zone of the outfit, where no property is known. */
  readonly zone: string;
}

async function briefOf(
  tx: Tx,
  callout: Pick<Callout, 'matter' | 'urgency'>,
  conversation: Conversation,
  place: CalloutPlace,
) {
  const entries = await tx.entries(conversation.id);
  const { optedOutAt } = await tx.lockPhone(conversation.phone);
  return writeBrief({ callout, conversation, ...place, entries, textsBlocked: optedOutAt !== null });
}

/** Danger has a callout per conversation. Anything else has one per unit and matter, however many phones write about it. */
function calloutKey({ urgency, matter, conversation, place }: CalloutRequest): string {
  const about =
    urgency === 'danger' || place.stay === null ? `of-${conversation.id}` : `unit-${place.stay.unit.id}:${matter}`;
  return `${urgency}:${about}`;
}

/**
 * Opens a callout for a conversation and makes it work, or returns the open one. A callout for the morning is held until the property's morning; any other rings now.
 */
export async function openCallout(tx: Tx, request: CalloutRequest, now: Instant): Promise<Callout> {
  const { urgency, matter, conversation, place } = request;
  const held = urgency === 'morning';
  const { callout, opened } = await tx.openCallout({
    key: calloutKey(request),
    conversationId: conversation.id,
    matter,
    urgency,
    status: held ? 'held' : 'ringing',
    brief: await briefOf(tx, { matter, urgency }, conversation, place),
    openedAt: now,
  });
  if (!opened) {
    await tellTaker(tx, callout, request, now);
    return callout;
  }
  if (urgency === 'danger') await foldInto(tx, callout, now);
  const dueAt = held ? nextLocalHour(now, place.property?.zone ?? request.zone, MORNING_HOUR) : now;
  await addRing(tx, callout, 0, dueAt);
  return callout;
}

/** Danger that is named again after someone has the callout must reach them: they may be on the road, or asleep again. */
async function tellTaker(tx: Tx, callout: Callout, request: CalloutRequest, now: Instant): Promise<void> {
  if (callout.status !== 'taken' || callout.urgency !== 'danger') return;
  const { people } = await tx.roster();
  const taker = people.find((person) => person.id === callout.takenBy);
  if (taker === undefined) return;
  const brief = await briefOf(tx, request, request.conversation, request.place);
  await addTextTo(tx, taker, `Callout ${callout.id}, again. ${brief}`, callout, now);
}

/** Danger is told by one callout: what else was open of this conversation and untaken goes up in it. */
async function foldInto(tx: Tx, danger: Callout, now: Instant): Promise<void> {
  for (const other of await tx.openCallouts(danger.conversationId)) {
    if (other.id === danger.id || other.status === 'taken') continue;
    await tx.saveCallout({ ...other, status: 'done', doneAt: now, note: `became callout ${danger.id}` });
  }
}

async function addRing(tx: Tx, callout: Callout, round: number, dueAt: Instant): Promise<void> {
  await tx.addWork({
    kind: 'ring',
    dueAt,
    notAfter: null, // a callout never expires
    key: ringKey(callout.id, round),
    phone: null,
    danger: callout.urgency === 'danger',
    payload: { calloutId: callout.id, round },
  });
}

/** Whom a round tries: the first on the list, later the next one and the owners as well. */
function peopleOfRound(onCall: readonly Person[], round: number): readonly Person[] {
  if (round < WIDER_FROM_ROUND) return onCall.slice(0, 1);
  return onCall.filter((person, index) => index < 2 || person.role === 'owner');
}

async function addTextTo(
  tx: Tx,
  person: Person,
  body: string,
  callout: Callout,
  now: Instant,
  round?: CalloutRound,
): Promise<void> {
  await tx.addWork({
    kind: 'text',
    dueAt: now,
    // The next round has a text of its own: what waits behind a carrier that is down must not come all at once after it.
    notAfter: round === undefined ? null : after(now, ROUND_EVERY[callout.urgency]),
    key: null,
    phone: person.phone,
    danger: callout.urgency === 'danger',
    payload: { to: person.phone, body, entryId: null, round },
  });
}

/**
 * One round of trying: a text to each person of the round, an offer for each, and the next round in the time the urgency
 * allows. Nothing happens once the callout is taken or done.
 */
export async function ring(
  tx: Tx,
  work: CalloutRound,
  placeOf: (conversation: Conversation) => Promise<CalloutPlace>,
  now: Instant,
): Promise<string> {
  const callout = await tx.callout(work.calloutId);
  if (callout === null || callout.status === 'taken' || callout.status === 'done') return 'no longer wanted';
  const conversation = await tx.conversation(callout.conversationId);
  if (conversation === null) return 'its conversation is gone';
  const brief = await briefOf(tx, callout, conversation, await placeOf(conversation));
  await tx.saveCallout({ ...callout, status: 'ringing', brief });
  const people = peopleOfRound(whoIsOnCall(await tx.roster(), now), work.round);
  for (const person of people) {
    await tx.offerCallout({ calloutId: callout.id, personId: person.id, at: now, by: 'text' });
    await addTextTo(tx, person, `${brief} Reply TAKE ${callout.id}.`, callout, now, work);
  }
  await addRing(tx, callout, work.round + 1, after(now, ROUND_EVERY[callout.urgency]));
  return people.length === 0 ? 'the roster names nobody' : `tried ${people.length}`;
}

/**
 * A text of this round cannot reach its person: the next round need not wait. Only as far as the round that tries more
 * people than the first: if none can be reached by text, rounds at the speed of the refusals would help no one.
 */
export async function hastenNextRound(tx: Tx, { calloutId, round }: CalloutRound, now: Instant): Promise<void> {
  if (round < WIDER_FROM_ROUND) await tx.hastenWork(ringKey(calloutId, round + 1), now);
}

/** Tells everyone to whom a callout was offered, but for one person, something about it. */
export async function tellOffered(
  tx: Tx,
  callout: Callout,
  body: string,
  except: number | null,
  now: Instant,
): Promise<void> {
  const { people } = await tx.roster();
  const offered = new Set((await tx.offersOf(callout.id)).map((offer) => offer.personId));
  for (const person of people) {
    if (offered.has(person.id) && person.id !== except) await addTextTo(tx, person, body, callout, now);
  }
}
