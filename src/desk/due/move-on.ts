import { forPhone } from '../../flow/for-phone.ts';
import { turnAfterVisit, turnOnSilence } from '../../flow/turn.ts';
import { factsOf } from '../guest/facts-of.ts';
import { bottleOf } from './bottle.ts';
import { flowsOfVersion } from '../flow-versions.ts';
import { standingStep } from '../guest/listening.ts';
import { carryOutOrders } from '../guest/orders.ts';
import { knownOutletOf } from '../guest/outlets.ts';
import { placeOf } from '../callout/place-of.ts';
import type { Conversation, Tx, Work } from '../records.ts';
import { addDeskEntry } from '../guest/desk-entry.ts';
import { watchForQuiet } from '../guest/reply.ts';
import type { Surroundings } from '../surroundings.ts';
import { asksAboutDanger, takenCallout } from '../callout/taken.ts';

/** What moves a conversation on without a text: a silence that is long enough, or a visit that is some minutes past. */
const TURNS = { silence: turnOnSilence, 'after-visit': turnAfterVisit } as const;

/**
 * Moves a conversation on without a text: danger questions again, check-backs. A text that came in between has made it
 * void.
 */
export async function moveOn(
  desk: Surroundings,
  tx: Tx,
  work: Work,
  by: keyof typeof TURNS,
  payload: { readonly conversationId: number; readonly guestMessages: number },
): Promise<string> {
  const now = desk.now();
  const before = await tx.conversation(payload.conversationId);
  if (before === null) return 'its conversation is gone';
  const phone = await tx.lockPhone(before.phone);
  const conversation = (await tx.conversation(before.id)) ?? before;
  if (conversation.guestMessages !== payload.guestMessages) return 'the guest has written since';
  const flows = await flowsOfVersion(desk, tx, conversation.flowHash);
  const step = standingStep(flows, conversation);
  if (step === null) return 'its state cannot be restored';
  const taken = await takenCallout(tx, conversation.id);
  // A human is talking with them: the desk asks nothing of its own but the danger questions that stand.
  if (taken !== null && !asksAboutDanger(flows, step)) return 'someone has it';
  const place = await placeOf(tx, conversation);
  const { lang } = conversation;
  const { room } = conversation;
  const knownOutlet = await knownOutletOf(tx, place.property?.id ?? null, place.stay?.room ?? room, now);
  const sheet = await tx.settingSheet();
  const refillHours = place.stay === null ? null : bottleOf(desk.flows.book, place.stay, sheet).hours;
  const facts = factsOf(desk.outfit, { ...place, room, knownOutlet, refillHours }, sheet, now);
  const moved = TURNS[by](flows, { state: conversation.state, lang, facts, current: desk.flows.book });
  const words = forPhone(moved.lines.join('\n'), lang);
  const saved: Conversation = {
    ...conversation,
    state: moved.state,
    lastReply: words,
    equalReplies: 1,
    ending: moved.ending,
    endedAt: moved.ending === null ? null : now,
  };
  await tx.saveConversation(saved);
  // Before the orders: while this row stands it would keep the next step's wait, which has the same key, from being written.
  await tx.finishWork(work.id, `moved on to ${moved.step}`, now);
  await carryOutOrders(tx, { desk, flows, conversation: saved, place, turn: moved }, now);
  await watchForQuiet(tx, saved, conversation, now);
  if (words === '') return 'moved on without words';
  const entry = await addDeskEntry(tx, { conversationId: saved.id, words, step: moved.step }, now);
  if (phone.optedOutAt !== null) return 'the guest takes no texts';
  await tx.addWork({
    kind: moved.inDanger ? 'text' : 'check-back',
    dueAt: now,
    notAfter: null,
    key: null,
    phone: saved.phone,
    danger: moved.inDanger,
    payload: { to: saved.phone, body: words, entryId: entry.id },
  });
  return `moved on to ${moved.step}`;
}
