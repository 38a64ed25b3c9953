import { TRYING } from '../../roster/trying.ts';
import type { Person } from '../../roster/roster.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { noteAttempt } from '../callout/attempts.ts';
import { addCallTo, peopleFor } from '../callout/ringing.ts';
import type { Callout, IncomingCall, Tx } from '../records.ts';
import { ringKey } from '../work-kinds.ts';
import type { Standing, Waiting } from './standing.ts';

/** The queue in which a call's caller waits; of their own, so that whoever is put through gets this caller. */
export function queueOf(call: Pick<IncomingCall, 'id'>): string {
  return `caller-${call.id}`;
}

export function standingOf(call: IncomingCall): Standing {
  return JSON.parse(call.standing) as Standing;
}

async function personOf(tx: Tx, id: number | undefined): Promise<Person | null> {
  return (await tx.roster()).people.find((person) => person.id === id) ?? null;
}

/** Rings the one whose turn it is for a caller; true when there is nobody left to ring. */
async function ringNext(
  tx: Tx,
  call: IncomingCall,
  callout: Callout,
  waiting: Waiting,
  now: Instant,
): Promise<boolean> {
  const person = await personOf(tx, waiting.order[waiting.tried]);
  if (person === null) return true;
  if (callout.status !== 'taken') {
    await tx.offerCallout({ calloutId: callout.id, personId: person.id, at: now, by: 'call' });
    // Two ways of ringing the same people would cross each other: the callout's own rounds wait for this one.
    const wait = after(now, TRYING[callout.urgency].wait);
    await tx.delayWork(ringKey(callout.id, callout.round + 1), wait, now);
  }
  await noteAttempt(tx, callout, `calling ${person.name} for the guest on the line`, now);
  await addCallTo(tx, person, callout, now, { calloutId: callout.id, round: callout.round }, call.callId);
  return false;
}

/**
 * A caller begins to wait for a callout's answer. The people of the list are rung for them one after the other at once; who
 * has taken it already is rung alone. In danger the callout's own rounds ring everyone, a person a minute.
 *
 * @returns where the call stands; null when there is nobody to ring
 */
export async function beginWaiting(
  tx: Tx,
  call: IncomingCall,
  callout: Callout,
  now: Instant,
): Promise<Waiting | null> {
  const byRounds = callout.urgency === 'danger' && callout.status !== 'taken';
  const people = await peopleFor(tx, callout.id, now);
  const order = callout.status === 'taken' ? [callout.takenBy ?? 0] : people.map((person) => person.id);
  const waiting: Waiting = {
    at: 'waiting',
    calloutId: callout.id,
    order: byRounds ? [] : order,
    tried: 0,
    rungAt: now,
  };
  if (byRounds) return people.length === 0 ? null : waiting;
  return (await ringNext(tx, call, callout, waiting, now)) ? null : waiting;
}

/** Whoever was rung for a caller did not join: the next one is rung, or, when there is none, the caller is told so. */
export async function ringedInVain(tx: Tx, callId: string, personId: number, now: Instant): Promise<void> {
  const call = await tx.incomingCall(callId);
  if (call === null || call.endedAt !== null) return;
  const standing = standingOf(call);
  if (standing.at !== 'waiting' || standing.order[standing.tried] !== personId) return;
  const callout = await tx.callout(standing.calloutId);
  if (callout === null) return;
  const tried = standing.tried + 1;
  // Who took it by text meanwhile is the one to ring, and nobody else.
  const rung = standing.order.slice(0, tried);
  const taker = callout.status === 'taken' ? callout.takenBy : null;
  const order = taker === null ? standing.order : rung.includes(taker) ? rung : [...rung, taker];
  const next: Standing = { ...standing, order, tried, rungAt: now };
  await tx.saveIncomingCall({ ...call, standing: JSON.stringify(next) });
  await ringNext(tx, call, callout, next, now);
}

/** Who is being rung for a waiting caller; null when it is the callout's own rounds that ring. */
export async function rungNow(tx: Tx, waiting: Waiting): Promise<Person | null> {
  return personOf(tx, waiting.order[waiting.tried]);
}

/**
 * Long enough for a phone to ring, its owner to hear the brief, and press a key. After that something is wrong:
 * the call was not placed, or nobody has reported its end.
 */
const RUNG_FOR_AT_MOST = 'PT1M30S';

/** Who has been rung for a caller too long without an answer of any kind; null while nobody has. */
export function rungTooLong({ order, tried, rungAt }: Waiting, now: Instant): number | null {
  const personId = order[tried];
  return personId === undefined || rungAt === undefined || now < after(rungAt, RUNG_FOR_AT_MOST) ? null : personId;
}

/** Whether everybody has been rung for a caller without anyone joining. */
export function nobodyLeft({ order, tried }: Waiting): boolean {
  return order.length > 0 && tried >= order.length;
}
