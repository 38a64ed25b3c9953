import { daytimeFrom, isDaytime } from '../../time/daytime.ts';
import { after } from '../../time/instant.ts';
import { beginAttempt } from './attempt.ts';
import { TAKEN_OVER } from './outcome.ts';
import type { WorkOutcome } from './outcome.ts';
import { hastenNextRound } from '../callout/ringing.ts';
import type { Sent } from '../carrier.ts';
import { noteOptedOut } from './late-reports.ts';
import type { Work } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { guestUnreached } from '../callout/unreached.ts';
import { KINDS } from '../work-kinds.ts';
import type { TextWork } from '../work-kinds.ts';

/** Waits between tries of a text, growing; the last one repeats. */
const WAITS = ['PT5S', 'PT15S', 'PT1M', 'PT5M', 'PT15M'] as const;

const MAYBE_SENT: WorkOutcome = { done: 'may have been sent; not sent again' };

/** Why a text must not go out now, or not at all; null when nothing stands in its way. */
async function heldBack(desk: Surroundings, work: TextWork): Promise<WorkOutcome | null> {
  const { payload } = work;
  if (KINDS[work.kind].hours === 'any' || !('zone' in payload)) return null;
  if (!isDaytime(desk.now(), payload.zone)) return { movedTo: daytimeFrom(desk.now(), payload.zone) };
  const { optedOutAt } = await desk.records.transaction((tx) => tx.lockPhone(payload.to));
  return optedOutAt === null ? null : { done: 'the guest takes no texts' };
}

/**
 * Hands a text to the carrier. The attempt is marked before and its result after, so that a crash in between leaves a mark:
 * then, as after an answer that says neither yes nor no, a text of a callout goes out again and a reminder does not.
 */
export async function sendText(desk: Surroundings, row: Work, work: TextWork): Promise<WorkOutcome> {
  const again = row.danger || KINDS[work.kind].inDoubt === 'rather-twice';
  if (row.attemptedAt !== null && !again) return MAYBE_SENT;
  const held = await heldBack(desk, work);
  if (held !== null) return held;
  const { to, body } = work.payload;
  if (!(await beginAttempt(desk, row))) return TAKEN_OVER;
  const sent = await desk.carrier.sendText({ to, body, workId: row.id });
  desk.sends.note('text', sent, desk.now());
  if (sent.sent) return { done: `sent ${sent.providerId}` };
  if (sent.maybe === true && !again) return MAYBE_SENT;
  if (sent.final) return refusedForGood(desk, work, sent);
  await desk.records.transaction((tx) => tx.markAttempt(row.id, null));
  const wait = WAITS[Math.min(row.tries, WAITS.length) - 1] ?? WAITS[0];
  return { againAt: after(desk.now(), wait) };
}

/** No further try can help: the phone is put on record if it wants no texts, and a callout goes on to the next round. */
async function refusedForGood(
  desk: Surroundings,
  work: TextWork,
  { code, optedOut }: Extract<Sent, { sent: false }>,
): Promise<WorkOutcome> {
  const round = work.kind === 'text' ? work.payload.round : undefined;
  await desk.records.transaction(async (tx) => {
    if (optedOut === true) await noteOptedOut(tx, work.payload.to, desk.now());
    if (round !== undefined) await hastenNextRound(tx, round, desk.now());
    await guestUnreached(desk, tx, work, desk.now());
  });
  desk.wake();
  return { done: `refused ${code}` };
}
