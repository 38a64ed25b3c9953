import { DANGER_FLOW, flowOf } from '../../flow/book.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { readablePhone } from './brief.ts';
import { textsBlocked } from './brief-of.ts';
import { calloutWords, textGuest } from './words.ts';
import { flowsOfVersion } from '../flow-versions.ts';
import { callGuest } from '../call/guest-call.ts';
import { standingStep } from '../guest/listening.ts';
import type { Callout, Conversation, Tx } from '../records.ts';
import { tellTakerOrOffered } from './ringing.ts';
import type { Surroundings } from '../surroundings.ts';
import { dangerCheckKey } from '../work-kinds.ts';

/** When the guest of a danger callout is asked how they are, from when it was opened; at the last a person has to call. */
const CHECKS = ['PT5M', 'PT10M', 'PT15M'] as const;
const LAST = CHECKS.length - 1;

/** Makes a check due; after the last there is none. */
export async function planDangerCheck(tx: Tx, callout: Callout, check: number): Promise<void> {
  const wait = CHECKS[check];
  if (wait === undefined) return;
  await tx.addWork({
    kind: 'danger-check',
    dueAt: after(callout.openedAt, wait),
    notAfter: null,
    key: dangerCheckKey(callout.id, check),
    phone: null,
    danger: true,
    payload: { calloutId: callout.id, check },
  });
}

/** The question, where an answer to it would be understood: the danger thread listens for it. Elsewhere no question. */
async function question(desk: Surroundings, tx: Tx, conversation: Conversation): Promise<string> {
  const flows = await flowsOfVersion(desk, tx, conversation.flowHash);
  const step = standingStep(flows, conversation);
  const listens = step !== null && flowOf(step) === DANGER_FLOW && flows.steps.get(step)?.hears === 'called';
  return calloutWords(desk, tx, conversation, listens ? 'danger-check' : 'danger-check-elsewhere');
}

/**
 * Checks back with the guest of a danger callout that no human has closed: by text, or by voice where texts are blocked.
 * While someone has taken it the desk asks nothing of its own. A guest of whom nothing was heard since the first check is
 * to be called by a person.
 */
export async function checkOnGuest(
  desk: Surroundings,
  tx: Tx,
  { calloutId, check }: { readonly calloutId: number; readonly check: number },
  now: Instant,
): Promise<string> {
  const callout = await tx.callout(calloutId);
  if (callout === null || callout.status === 'done') return 'no longer wanted';
  const conversation = await tx.conversation(callout.conversationId);
  if (conversation === null) return 'its conversation is gone';
  await planDangerCheck(tx, callout, check + 1);
  if (check === LAST) return haveAPersonCall(tx, callout, conversation, now);
  if (callout.status === 'taken') return 'someone has it';
  if (await textsBlocked(tx, conversation.phone)) {
    await callGuest(tx, callout, conversation, now);
    return 'calling: texts are blocked';
  }
  await textGuest(tx, conversation, await question(desk, tx, conversation), true, now);
  return 'asked';
}

async function haveAPersonCall(tx: Tx, callout: Callout, conversation: Conversation, now: Instant): Promise<string> {
  if (conversation.lastGuestAt > after(callout.openedAt, CHECKS[0])) return 'the guest has written since';
  const words = `Callout ${callout.id}: no word from the guest. Please call them now: ${readablePhone(conversation.phone)}.`;
  await tellTakerOrOffered(tx, callout, `${words} ${callout.brief}`, now);
  if (callout.status !== 'taken') await callGuest(tx, callout, conversation, now);
  return 'a person is to call';
}
