import { calloutWords } from '../callout/words.ts';
import { ringedInVain } from '../caller/waiting.ts';
import { endCall } from './calls.ts';
import type { Instant } from '../../time/instant.ts';
import { beginAttempt } from '../due/attempt.ts';
import { TAKEN_OVER } from '../due/outcome.ts';
import type { WorkOutcome } from '../due/outcome.ts';
import type { Tx, Work } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import type { CallWork } from '../work-kinds.ts';

/** Whether the call is still wanted, and the words it will begin with; null when it is not. */
async function wanted(desk: Surroundings, tx: Tx, call: CallWork['payload']): Promise<string | null> {
  if (call.about === 'drill') return 'A test of the list.';
  const callout = await tx.callout(call.calloutId);
  if (callout === null || callout.status === 'done') return null;
  if (call.about === 'callout') {
    // Who has it already is rung only to talk with the guest who waits for them.
    const forTaker = call.forCaller !== undefined && callout.takenBy === call.personId;
    if (callout.status === 'taken' && !forTaker) return null;
    return call.forCaller === undefined || (await tx.callWaitingFor(callout.id)) !== null ? callout.brief : null;
  }
  const conversation = await tx.conversation(call.conversationId);
  return conversation === null ? null : calloutWords(desk, tx, conversation, 'call-opening');
}

/** A caller must not wait for a phone that is not rung. */
export async function callNotPlaced(tx: Tx, call: CallWork['payload'], now: Instant): Promise<void> {
  if (call.about !== 'callout' || call.forCaller === undefined) return;
  await ringedInVain(tx, call.forCaller, call.personId, now);
}

/**
 * Places a call. Like a text of a callout it is rather placed twice than never. One that the carrier does not take counts
 * as a phone that cannot be reached: waiting for it would cost the next person's time.
 */
export async function placeCall(desk: Surroundings, row: Work, call: CallWork['payload']): Promise<WorkOutcome> {
  const opening = await desk.records.transaction(async (tx) => {
    const words = await wanted(desk, tx, call);
    if (words === null) await callNotPlaced(tx, call, desk.now());
    return words;
  });
  if (opening === null) return { done: 'no longer wanted' };
  if (!(await beginAttempt(desk, row))) return TAKEN_OVER;
  const placed = await desk.carrier.placeCall({ to: call.phone, opening, workId: row.id });
  desk.sends.note('call', placed, desk.now());
  if (placed.sent) return { done: `placed ${placed.providerId}` };
  await desk.records.transaction((tx) => endCall(tx, { call: row.id, outcome: 'failed' }, desk.now()));
  desk.wake();
  return { done: `refused ${placed.code}` };
}
