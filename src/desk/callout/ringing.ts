import { whoIsOnCall } from '../../roster/on-call.ts';
import type { Person } from '../../roster/roster.ts';
import { TRYING, nextPass, nextRoundAt, roundsOfAPass, whomToTry } from '../../roster/trying.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { briefOf } from './brief-of.ts';
import { guestsOf } from './words.ts';
import { placeOf } from './place-of.ts';
import type { Callout, Offer, Tx } from '../records.ts';
import { noteAttempt } from './attempts.ts';
import type { Surroundings } from '../surroundings.ts';
import { charactersAround, linkFor, wordsAround } from './link.ts';
import { ringKey } from '../work-kinds.ts';
import type { CalloutRound } from '../work-kinds.ts';

/** Makes a round of trying due. */
export async function addRing(tx: Tx, callout: Callout, round: number, dueAt: Instant): Promise<void> {
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

/** A text to a technician about a callout; with the round that it tries them in. */
export async function addTextTo(
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
    notAfter: round === undefined ? null : after(now, TRYING[callout.urgency].wait),
    key: null,
    phone: person.phone,
    danger: callout.urgency === 'danger',
    payload: { to: person.phone, body, entryId: null, round },
  });
}

/**
 * A call to a technician about a callout.
 *
 * @param forCaller the carrier's id of the call whose caller waits to be put through
 */
export async function addCallTo(
  tx: Tx,
  person: Person,
  callout: Callout,
  now: Instant,
  round: CalloutRound,
  forCaller?: string,
): Promise<void> {
  await tx.addWork({
    kind: 'call',
    dueAt: now,
    notAfter: after(now, TRYING[callout.urgency].wait),
    key: null,
    phone: null, // a text that waits to be sent to the same phone must not hold up its call
    danger: callout.urgency === 'danger',
    payload: { phone: person.phone, about: 'callout', ...round, personId: person.id, forCaller },
  });
}

/** Who is to be tried: those on call who did not pass it on; everyone again when all of them did. */
function stillToTry(onCall: readonly Person[], offers: readonly Offer[]): readonly Person[] {
  const passed = new Set(offers.filter((offer) => offer.passedAt !== null).map((offer) => offer.personId));
  const left = onCall.filter((person) => !passed.has(person.id));
  return left.length === 0 ? onCall : left;
}

/** Those on call now who did not pass the callout on, in the order of trying; all of them where everybody did. */
export async function peopleFor(tx: Tx, calloutId: number, now: Instant): Promise<readonly Person[]> {
  return stillToTry(whoIsOnCall(await tx.roster(), now), await tx.offersOf(calloutId));
}

/**
 * One round of trying: a text or a call, or both, to each person of the round; each attempt an offer and an entry; and the
 * next round in the time the urgency allows. Nothing happens once the callout is taken or done.
 */
export async function ring(
  desk: Surroundings,
  tx: Tx,
  { calloutId, round }: CalloutRound,
  now: Instant,
): Promise<string> {
  const standing = await tx.callout(calloutId);
  if (standing === null || standing.status === 'taken' || standing.status === 'done') return 'no longer wanted';
  const guests = await guestsOf(tx, standing);
  const [first, ...others] = guests;
  if (first === undefined) return 'its conversation is gone';
  const brief = await briefOf(tx, standing, first, others, charactersAround(desk, standing.id));
  const callout: Callout = { ...standing, status: 'ringing', round, brief };
  await tx.saveCallout(callout);
  const roster = await tx.roster();
  const people = stillToTry(whoIsOnCall(roster, now), await tx.offersOf(callout.id));
  const attempts = whomToTry(callout.urgency, people, round);
  for (const { person, by } of attempts) {
    await tx.offerCallout({ calloutId: callout.id, personId: person.id, at: now, by });
    await noteAttempt(tx, callout, `${by === 'text' ? 'texting' : 'calling'} ${person.name}`, now);
    const tried = { calloutId, round };
    const around = wordsAround(callout.id, await linkFor(desk, tx, callout, person, now));
    if (by === 'text') await addTextTo(tx, person, `${callout.brief}${around}`, callout, now, tried);
    else await addCallTo(tx, person, callout, now, tried);
  }
  const zone = (await placeOf(tx, first)).property?.zone ?? roster.zone;
  await addRing(tx, callout, round + 1, nextRoundAt(callout.urgency, zone, now));
  return attempts.length === 0 ? 'the roster names nobody' : `tried ${attempts.map(({ by }) => by).join(', ')}`;
}

/**
 * Someone of this round cannot be reached, or says no: the next round need not wait. Only until the list was gone through:
 * if none can be reached, rounds at the speed of the refusals would help no one.
 */
export async function hastenNextRound(tx: Tx, { calloutId, round }: CalloutRound, now: Instant): Promise<void> {
  const callout = await tx.callout(calloutId);
  if (callout === null || callout.status !== 'ringing') return;
  const { length } = await peopleFor(tx, calloutId, now);
  if ((round + 1) % roundsOfAPass(callout.urgency, length) === 0) return;
  await tx.hastenWork(ringKey(calloutId, round + 1), now);
}

/**
 * Goes on without someone who passed the callout on: the list is begun anew, with the next person first, at once; or, when
 * everybody passed it on, after the usual wait.
 */
export async function ringWithout(tx: Tx, callout: Callout, person: Person, now: Instant): Promise<void> {
  await tx.dropWork(ringKey(callout.id, callout.round), now);
  await tx.dropWork(ringKey(callout.id, callout.round + 1), now);
  await tx.passCallout(callout.id, person.id, now);
  const onCall = whoIsOnCall(await tx.roster(), now);
  const left = stillToTry(onCall, await tx.offersOf(callout.id));
  const round = nextPass(callout.urgency, left.length, callout.round);
  await tx.saveCallout({ ...callout, status: 'ringing', takenBy: null, takenAt: null, round });
  const someoneLeft = !left.some((each) => each.id === person.id);
  await addRing(tx, callout, round, someoneLeft ? now : after(now, TRYING[callout.urgency].wait));
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

/** Who has taken a callout; null while nobody has, or when they are no longer on the roster. */
export async function takerOf(tx: Tx, callout: Callout): Promise<Person | null> {
  if (callout.status !== 'taken') return null;
  const { people } = await tx.roster();
  return people.find((person) => person.id === callout.takenBy) ?? null;
}

/** Tells the one who has taken a callout; while nobody has, everyone to whom it was offered. */
export async function tellTakerOrOffered(tx: Tx, callout: Callout, body: string, now: Instant): Promise<void> {
  const taker = await takerOf(tx, callout);
  if (taker === null) await tellOffered(tx, callout, body, null, now);
  else await addTextTo(tx, taker, body, callout, now);
}
