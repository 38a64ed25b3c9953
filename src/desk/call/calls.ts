import type { Instant } from '../../time/instant.ts';
import { aloud } from '../../flow/aloud.ts';
import { noteAttempt } from '../callout/attempts.ts';
import { calloutCall } from './callout-call.ts';
import type { CallReport, CallTurn, Spoken } from '../carrier.ts';
import { drillCall } from './drill-call.ts';
import { callGuest } from './guest-call.ts';
import { ringedInVain } from '../caller/waiting.ts';
import { guestEmergencyCall } from './guest-emergency-call.ts';
import { readablePhone } from '../callout/brief.ts';
import type { Tx } from '../records.ts';
import { hastenNextRound, tellTakerOrOffered } from '../callout/ringing.ts';
import type { Surroundings } from '../surroundings.ts';
import { workSchema } from '../work-kinds.ts';
import type { CallWork } from '../work-kinds.ts';

/** A line nobody ends would talk to itself for as long as the carrier lets it. */
const MOST_TURNS = 30;

const OVER: Spoken = { lang: 'en', sentences: ['This call is over. Goodbye.'], nextTurn: null };

async function callOf(tx: Tx, workId: number): Promise<CallWork['payload'] | null> {
  const row = await tx.work(workId);
  if (row === null) return null;
  const known = workSchema.safeParse({ kind: row.kind, payload: row.payload });
  return known.success && known.data.kind === 'call' ? known.data.payload : null;
}

/**
 * One turn of a call that the desk placed: what is said to the key that was pressed. Each turn has its own number, and is
 * answered once: asked again it gives the same words and changes nothing.
 */
export async function answerTurn(desk: Surroundings, tx: Tx, turn: CallTurn, now: Instant): Promise<Spoken> {
  const call = await callOf(tx, turn.call);
  if (call === null || turn.turn > MOST_TURNS) return OVER;
  const id = turnId(turn.call, turn.turn);
  const claim = await tx.claimMessage({ id, phone: call.phone, at: now });
  if (!claim.fresh) return claim.reply === null ? OVER : (JSON.parse(claim.reply) as Spoken);
  const said = await spokenIn(desk, tx, call, turn, now);
  const spoken = { ...said, sentences: said.sentences.map(aloud) };
  await tx.settleMessage(id, JSON.stringify(spoken), null);
  return spoken;
}

async function spokenIn(
  desk: Surroundings,
  tx: Tx,
  call: CallWork['payload'],
  turn: CallTurn,
  now: Instant,
): Promise<Spoken> {
  switch (call.about) {
    case 'callout':
      return calloutCall(desk, tx, call, turn, now);
    case 'guest':
      return guestEmergencyCall(desk, tx, call, turn, now);
    case 'drill':
      return drillCall(desk, tx, call, turn, now);
    default:
      return call satisfies never;
  }
}

const turnId = (call: number, turn: number): string => `call-${call}-${turn}`;

const OUTCOME: Readonly<Record<CallReport['outcome'], string>> = {
  completed: 'hung up',
  busy: 'busy',
  'no-answer': 'no answer',
  failed: 'cannot be reached',
};

/**
 * A call has ended, or could not be placed. A technician who did not take the callout costs no more waiting; a guest who
 * was not reached is called again, and after some tries whoever has the callout, or was offered it, is told. Said twice it
 * does nothing the second time.
 */
export async function endCall(tx: Tx, report: CallReport, now: Instant): Promise<void> {
  const call = await callOf(tx, report.call);
  if (call === null || call.about === 'drill') return;
  const id = `call-${report.call}-ended`;
  if (!(await tx.claimMessage({ id, phone: call.phone, at: now })).fresh) return;
  await tx.settleMessage(id, null, null);
  const callout = await tx.callout(call.calloutId);
  if (callout === null || callout.status === 'done') return;
  if (call.about === 'callout') {
    const { people } = await tx.roster();
    const name = people.find((person) => person.id === call.personId)?.name ?? 'someone';
    if (callout.status === 'ringing') await noteAttempt(tx, callout, `${name}: ${OUTCOME[report.outcome]}`, now);
    if (call.forCaller !== undefined) return ringedInVain(tx, call.forCaller, call.personId, now);
    return hastenNextRound(tx, call, now);
  }
  // Only someone who was still there after the words comes to the second turn: no machine does.
  if ((await tx.storedReply(turnId(report.call, 1))) !== null) return;
  await noteAttempt(tx, callout, `the guest, by voice: ${OUTCOME[report.outcome]}`, now);
  const conversation = await tx.conversation(call.conversationId);
  if (conversation === null || (await callGuest(tx, callout, conversation, now, call.tried))) return;
  const words = `Callout ${callout.id}: the guest's phone is not answered either, ${readablePhone(call.phone)}. Please go, or send someone.`;
  await tellTakerOrOffered(tx, callout, words, now);
}
