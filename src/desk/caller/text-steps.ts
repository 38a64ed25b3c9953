import { forPhone } from '../../flow/for-phone.ts';
import { sayStep } from '../../flow/say.ts';
import { addDeskEntry } from '../guest/desk-entry.ts';
import type { Line } from './line.ts';
import type { Scene } from './scene.ts';

/** The words of the step that stands, as a text to the phone that calls. */
export async function textSteps(line: Line, { conversation, step, words }: Scene): Promise<void> {
  const asked = words.step(step);
  if (conversation === null || asked === undefined || asked.says === 'emergency') return;
  const body = forPhone(sayStep(asked, line.lang, words.facts, words.flows.book), line.lang);
  await sendSteps(line, conversation.id, body, step);
}

/** A text that the caller asked for. It must not come long after the call: it would confuse. */
async function sendSteps(line: Line, conversationId: number, body: string, step: string | null): Promise<void> {
  const entry = await addDeskEntry(line.tx, { conversationId, words: body, step }, line.now);
  await line.tx.addWork({
    kind: 'check-back',
    dueAt: line.now,
    notAfter: null,
    key: null,
    phone: line.call.phone,
    danger: false,
    payload: { to: line.call.phone, body, entryId: entry.id },
  });
}
