import { forPhone } from '../../flow/for-phone.ts';
import { fill, sayStep } from '../../flow/say.ts';
import type { Instant } from '../../time/instant.ts';
import { addDeskEntry } from '../guest/desk-entry.ts';
import type { IncomingCall, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { sceneOf } from './scene.ts';
import { standingOf } from './waiting.ts';

/** A call that ended while a question stood: the question as a text, so that the caller can go on where they were. */
export async function textWhereWeWere(desk: Surroundings, tx: Tx, call: IncomingCall, now: Instant): Promise<void> {
  const standing = standingOf(call);
  const asked = standing.at === 'question' || standing.at === 'sure' || standing.at === 'prompts';
  if (!asked || standing.step === null) return;
  const { conversation, step, words } = await sceneOf(desk, tx, call, { lang: call.lang, tag: standing.tag }, now);
  const question = words.step(step);
  if (conversation === null || step !== standing.step || !words.canText) return;
  if (question?.hears === undefined || question.says === 'emergency' || conversation.ending !== null) return;
  const lead = fill(desk.flows.book.voice.says['cut-off'], call.lang, words.facts, desk.flows.book);
  const body = forPhone(`${lead} ${sayStep(question, call.lang, words.facts, words.flows.book)}`, call.lang);
  const entry = await addDeskEntry(tx, { conversationId: conversation.id, words: body, step }, now);
  await tx.addWork({
    kind: 'check-back',
    dueAt: now,
    notAfter: null,
    key: null,
    phone: call.phone,
    danger: false,
    payload: { to: call.phone, body, entryId: entry.id },
  });
}
