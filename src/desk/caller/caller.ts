import type { Instant } from '../../time/instant.ts';
import type { CallerTurn, SpokenToCaller } from '../carrier.ts';
import { hiddenNumber, isHidden } from '../guest/hidden-number.ts';
import type { IncomingCall, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { textWhereWeWere } from './cut-off.ts';
import { answered } from './call-turn.ts';
import { languageOfCaller } from './language.ts';
import { turnId } from './turn-id.ts';
import { standingOf } from './waiting.ts';
import type { Standing } from './standing.ts';
import { waitingWords } from './waiting-words.ts';

/** A call that goes on and on is a machine, or a line that nobody hung up. */
const MOST_TURNS = 120;

const OVER: SpokenToCaller = { sentences: [], after: { do: 'hang-up' } };

function stored(reply: string | null): SpokenToCaller {
  return reply === null ? OVER : (JSON.parse(reply) as SpokenToCaller);
}

/** The call's row; opened now where it is the first turn, or where the first one never reached the desk. */
async function callOf(desk: Surroundings, tx: Tx, turn: CallerTurn, now: Instant): Promise<IncomingCall> {
  const phone = turn.from ?? hiddenNumber(turn.callId);
  const guest = await tx.lockPhone(phone);
  const known = await tx.incomingCall(turn.callId);
  if (known !== null) return known;
  if (isHidden(phone)) await tx.savePhone({ ...guest, optedOutAt: now });
  return tx.openIncomingCall({
    callId: turn.callId,
    phone,
    lang: await languageOfCaller(tx, guest, now),
    conversationId: null,
    waitsFor: null,
    standing: JSON.stringify({ at: 'arrived', misses: 0 } satisfies Standing),
    openedAt: now,
    endedAt: null,
  });
}

/**
 * One turn of a call that came in: what is said to what came, in one transaction. Each turn has its own number and is
 * answered once: asked again it gives the same words and changes nothing. A call that was never opened begins with its
 * first turn, whatever number it has; one that is over says nothing more.
 */
export async function answerCaller(
  desk: Surroundings,
  tx: Tx,
  turn: CallerTurn,
  now: Instant,
): Promise<SpokenToCaller> {
  const id = turnId(turn.callId, turn.turn);
  const phone = turn.from ?? hiddenNumber(turn.callId);
  const claim = await tx.claimMessage({ id, phone, at: now });
  if (!claim.fresh) return stored(claim.reply);
  const call = await callOf(desk, tx, turn, now);
  const over = call.endedAt !== null || turn.turn > MOST_TURNS;
  const spoken = over ? await leftOver(desk, tx, call, turn, now) : await answered(desk, tx, call, turn, now);
  await tx.settleMessage(id, JSON.stringify(spoken), null);
  return spoken;
}

/** What still comes of a call that is over: a recording is kept, everything else changes nothing. */
async function leftOver(
  desk: Surroundings,
  tx: Tx,
  call: IncomingCall,
  turn: CallerTurn,
  now: Instant,
): Promise<SpokenToCaller> {
  if (turn.said.came === 'recording' && standingOf(call).at === 'recording') await answered(desk, tx, call, turn, now);
  return OVER;
}

/** What is said to a caller who waits, for the `count`th time; the same count again gets the same words. */
export async function callerWaits(
  desk: Surroundings,
  tx: Tx,
  waiting: { readonly callId: string; readonly turn: number; readonly count: number },
  now: Instant,
): Promise<SpokenToCaller> {
  const call = await tx.incomingCall(waiting.callId);
  if (call === null) return { sentences: [], after: { do: 'leave-queue' } };
  const id = `${turnId(waiting.callId, waiting.turn)}-wait-${waiting.count}`;
  const claim = await tx.claimMessage({ id, phone: call.phone, at: now });
  if (!claim.fresh) return stored(claim.reply);
  const spoken = await waitingWords(desk, tx, call, waiting, now);
  await tx.settleMessage(id, JSON.stringify(spoken), null);
  return spoken;
}

/** A call has ended, as the carrier says. Said twice, or of a call that is not known, it does nothing. */
export async function callerGone(desk: Surroundings, tx: Tx, callId: string, now: Instant): Promise<void> {
  const known = await tx.incomingCall(callId);
  if (known === null || known.endedAt !== null) return;
  await tx.lockPhone(known.phone);
  await textWhereWeWere(desk, tx, known, now);
  await tx.saveIncomingCall({ ...known, waitsFor: null, endedAt: now });
}
