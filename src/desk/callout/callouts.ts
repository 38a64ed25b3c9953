import { MORNING_HOUR } from '../../roster/trying.ts';
import type { Urgency } from '../../roster/trying.ts';
import { after, nextLocalHour } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { briefOf, textsBlocked } from './brief-of.ts';
import type { CalloutPlace } from './place.ts';
import { planDangerCheck } from './danger-check.ts';
import { callGuest } from '../call/guest-call.ts';
import { causeAt, joinNeighbours, neighboursCallout } from './neighbours.ts';
import type { Callout, Conversation, Tx } from '../records.ts';
import { addRing, addTextTo, takerOf } from './ringing.ts';
import type { Surroundings } from '../surroundings.ts';
import { untakenKey } from '../work-kinds.ts';

/** If nobody has taken a callout so long after its first round, its guests get the direct number. */
export const DIRECT_NUMBER_AFTER: Readonly<Record<Urgency, string>> = {
  danger: 'PT3M',
  tonight: 'PT30M',
  morning: 'PT3H',
};

export interface CalloutRequest {
  readonly urgency: Urgency;
  /** A few words, for the brief. */
  readonly matter: string;
  readonly conversation: Conversation;
  readonly place: CalloutPlace;
  /** Where the matter is of a kind that a whole building may have. */
  readonly cause?: 'power' | null;
}

/** Danger has a callout per conversation. Anything else has one per unit and matter, however many phones write about it. */
function calloutKey({ urgency, matter, conversation, place }: CalloutRequest): string {
  const about =
    urgency === 'danger' || place.stay === null ? `of-${conversation.id}` : `unit-${place.stay.unit.id}:${matter}`;
  return `${urgency}:${about}`;
}

/** The cause that the matter may share with the neighbours. Danger is never folded into anything. */
function sharedCause({ urgency, place, cause }: CalloutRequest): { propertyId: number; cause: string } | null {
  if (urgency === 'danger' || cause == null || place.property === null) return null;
  return { propertyId: place.property.id, cause: causeAt(cause, place.property.id) };
}

/**
 * Opens a callout for a conversation and makes it work, or returns the open one. A callout for the morning is held until
 * the property's morning; any other rings now. Power matters of one building, close together, are one callout.
 */
export async function openCallout(desk: Surroundings, tx: Tx, request: CalloutRequest, now: Instant): Promise<Callout> {
  const { urgency, matter, conversation } = request;
  const shared = sharedCause(request);
  if (shared !== null) {
    const theirs = await neighboursCallout(tx, shared.propertyId, shared.cause, now);
    if (theirs !== null) return joinNeighbours(desk, tx, theirs, conversation, now);
  }
  const { callout, opened } = await tx.openCallout({
    key: calloutKey(request),
    conversationId: conversation.id,
    matter,
    urgency,
    status: urgency === 'morning' ? 'held' : 'ringing',
    brief: await briefOf(tx, { matter, urgency }, conversation),
    openedAt: now,
    cause: shared?.cause ?? null,
  });
  if (opened) await begin(desk, tx, callout, request, now);
  else await tellTaker(tx, callout, request, now);
  if (urgency === 'danger' && (await textsBlocked(tx, conversation.phone)))
    await callGuest(tx, callout, conversation, now);
  return callout;
}

async function begin(
  desk: Surroundings,
  tx: Tx,
  callout: Callout,
  { urgency, place }: CalloutRequest,
  now: Instant,
): Promise<void> {
  if (urgency === 'danger') {
    await foldInto(tx, callout, now);
    await planDangerCheck(tx, callout, 0);
  }
  const zone = place.property?.zone ?? desk.outfit.zone;
  const firstRound = urgency === 'morning' ? nextLocalHour(now, zone, MORNING_HOUR) : now;
  await addRing(tx, callout, 0, firstRound);
  await tx.addWork({
    kind: 'untaken',
    dueAt: after(firstRound, DIRECT_NUMBER_AFTER[urgency]),
    notAfter: null,
    key: untakenKey(callout.id),
    phone: null,
    danger: urgency === 'danger',
    payload: { calloutId: callout.id },
  });
}

/**
 * What asks for the callout again after someone has it must reach them: they may be on the road, or asleep again. It is
 * danger named anew, or another phone of the rental.
 */
async function tellTaker(tx: Tx, callout: Callout, request: CalloutRequest, now: Instant): Promise<void> {
  const taker = await takerOf(tx, callout);
  if (taker === null) return;
  const brief = await briefOf(tx, request, request.conversation);
  await addTextTo(tx, taker, `Callout ${callout.id}, again. ${brief}`, callout, now);
}

/**
 * Danger is told by one callout: what else was open of this conversation and untaken goes up in it, but not what is out for
 * neighbours as well.
 */
async function foldInto(tx: Tx, danger: Callout, now: Instant): Promise<void> {
  for (const other of await tx.openCallouts(danger.conversationId)) {
    if (other.id === danger.id || other.status === 'taken') continue;
    if ((await tx.conversationsOf(other.id)).length > 1) continue;
    await tx.saveCallout({ ...other, status: 'done', doneAt: now, note: `became callout ${danger.id}` });
  }
}
