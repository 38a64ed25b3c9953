import { turnOnSilence } from '../flow/turn.ts';
import { after } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import { hastenNextRound, ring } from './callouts.ts';
import type { CalloutPlace } from './callouts.ts';
import { factsOf } from './facts-of.ts';
import { flowsOfVersion } from './flow-versions.ts';
import { standingStep } from './listening.ts';
import { carryOutOrders } from './orders.ts';
import type { Conversation, Tx, Work } from './records.ts';
import { addDeskEntry, watchForQuiet } from './reply.ts';
import type { Surroundings } from './surroundings.ts';
import { forPhone } from '../flow/for-phone.ts';
import { silenceKey, workSchema } from './work-kinds.ts';
import type { CalloutRound, DeskWork } from './work-kinds.ts';

/** How a piece of due work ended: done, with a word for the records, or to be tried again. */
export type WorkOutcome = { readonly done: string } | { readonly againAt: Instant };

/** Waits between tries of a text, growing; the last one repeats. */
const WAITS = ['PT5S', 'PT15S', 'PT1M', 'PT5M', 'PT15M'] as const;

async function placeOf(tx: Tx, conversation: Conversation): Promise<CalloutPlace> {
  const stay = conversation.rentalId === null ? null : await tx.stay(conversation.rentalId);
  const property =
    stay?.property ?? (conversation.propertyId === null ? null : await tx.property(conversation.propertyId));
  return { stay, property };
}

async function sendText(
  desk: Surroundings,
  work: Work,
  text: { readonly to: string; readonly body: string; readonly round?: CalloutRound | undefined },
): Promise<WorkOutcome> {
  const sent = await desk.carrier.sendText({ to: text.to, body: text.body, workId: work.id });
  if (sent.sent) return { done: `sent ${sent.providerId}` };
  if (sent.final) {
    const { round } = text;
    if (round !== undefined) await desk.records.transaction((tx) => hastenNextRound(tx, round, desk.now()));
    return { done: `refused ${sent.code}` };
  }
  const wait = WAITS[Math.min(work.tries, WAITS.length) - 1] ?? WAITS[0];
  return { againAt: after(desk.now(), wait) };
}

/** The step's own way on when nothing was heard; a text that came in between has made it void. */
async function onSilence(
  desk: Surroundings,
  tx: Tx,
  payload: { conversationId: number; guestMessages: number },
): Promise<string> {
  const now = desk.now();
  const before = await tx.conversation(payload.conversationId);
  if (before === null) return 'its conversation is gone';
  const phone = await tx.lockPhone(before.phone);
  const conversation = (await tx.conversation(before.id)) ?? before;
  if (conversation.guestMessages !== payload.guestMessages) return 'the guest has written since';
  // This row is done with this transaction, not after it: it must not be done twice, and while it stands it would keep
  // the next step's wait, which has the same key, from being written.
  await tx.dropWork(silenceKey(conversation.id), now);
  const flows = await flowsOfVersion(desk, tx, conversation.flowHash);
  if (standingStep(flows, conversation) === null) return 'its state cannot be restored';
  const place = await placeOf(tx, conversation);
  const { lang } = conversation;
  const facts = factsOf(desk.outfit, { ...place, room: conversation.room }, await tx.settingSheet(), now);
  const moved = turnOnSilence(flows, { state: conversation.state, lang, facts, current: desk.flows.book });
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
  await carryOutOrders(tx, { flows, conversation: saved, place, zone: desk.outfit.zone, turn: moved }, now);
  await watchForQuiet(tx, saved, now);
  if (words === '') return 'moved on without words';
  const entry = await addDeskEntry(tx, { conversationId: saved.id, words, step: moved.step }, now);
  if (phone.optedOutAt !== null) return 'the guest takes no texts';
  await tx.addWork({
    kind: 'text',
    dueAt: now,
    notAfter: moved.inDanger ? null : after(now, 'PT1H'),
    key: null,
    phone: saved.phone,
    danger: moved.inDanger,
    payload: { to: saved.phone, body: words, entryId: entry.id },
  });
  return `moved on to ${moved.step}`;
}

/** Four hours without a word: the conversation is over, unless a callout is open. */
async function goQuiet(desk: Surroundings, tx: Tx, conversationId: number): Promise<string> {
  const conversation = await tx.conversation(conversationId);
  if (conversation === null || conversation.ending !== null) return 'ended before';
  await tx.lockPhone(conversation.phone);
  if ((await tx.openCallouts(conversation.id)).length > 0) return 'a callout is open';
  await tx.saveConversation({ ...conversation, ending: 'gave-up', endedAt: desk.now() });
  return 'gave up';
}

async function inRecords(desk: Surroundings, work: DeskWork & { kind: 'ring' | 'silence' | 'quiet' }): Promise<string> {
  return desk.records.transaction(async (tx) => {
    switch (work.kind) {
      case 'ring':
        return ring(tx, work.payload, (conversation) => placeOf(tx, conversation), desk.now());
      case 'silence':
        return onSilence(desk, tx, work.payload);
      case 'quiet':
        return goQuiet(desk, tx, work.payload.conversationId);
      default:
        return work satisfies never;
    }
  });
}

/**
 * Does one piece of due work. Safe to do twice: what is written is keyed, and what is sent may be doubled only where it
 * must not be lost.
 * @throws Error for work of a kind this desk does not know.
 */
export async function doWork(desk: Surroundings, work: Work): Promise<WorkOutcome> {
  if (work.notAfter !== null && desk.now() > work.notAfter) return { done: 'expired' };
  const known = workSchema.safeParse({ kind: work.kind, payload: work.payload });
  if (!known.success) throw new Error(`work ${work.id}: kind "${work.kind}" or its payload is not known here`);
  if (known.data.kind === 'text' || known.data.kind === 'reply-watch') return sendText(desk, work, known.data.payload);
  const result = await inRecords(desk, known.data);
  desk.wake();
  return { done: result };
}
