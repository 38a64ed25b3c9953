import type { FromCaller, SpokenToCaller } from '../carrier.ts';
import { noteAttempt } from '../callout/attempts.ts';
import { tellTakerOrOffered } from '../callout/ringing.ts';
import { isHidden } from '../guest/hidden-number.ts';
import { heardSpeech, isUnsure, yesOrNo } from './hearing.ts';
import type { Line } from './line.ts';
import { takeSpeech } from './reply.ts';
import type { Scene } from './scene.ts';
import type { Standing } from './standing.ts';
import { turnId } from './turn-id.ts';

type At<Where extends Standing['at']> = Extract<Standing, { at: Where }>;

/** The caller left the queue: they have talked with someone, or nobody came. */
export async function afterQueue(
  line: Line,
  scene: Scene,
  { calloutId }: At<'waiting'>,
  said: FromCaller,
): Promise<SpokenToCaller> {
  const result = said.came === 'queue' ? said.result : 'failed';
  if (result === 'gone') return line.hangUp(scene.words, []);
  if (result === 'talked') return line.hangUp(scene.words, [scene.words.phrase('talked')]);
  return line.offerRecording(scene.words, calloutId);
}

function afterMessage(line: Line, scene: Scene, what: 'recorded' | 'not-recorded'): Promise<SpokenToCaller> {
  const phrase = isHidden(line.call.phone) ? (`${what}-no-number` as const) : what;
  return line.hangUp(scene.words, [scene.words.phrase(phrase)]);
}

/** Whether a message may be recorded: only a clear yes is one. */
export async function atConsent(
  line: Line,
  scene: Scene,
  { calloutId }: At<'consent'>,
  said: FromCaller,
): Promise<SpokenToCaller> {
  if (said.came === 'speech') {
    const unsure = isUnsure(said.confidence);
    const at = { flows: scene.words.flows, step: scene.step };
    const heard = heardSpeech(line.desk, { words: said.words, unsure, lang: line.lang }, at, line.now);
    if (heard.danger !== 'none') return takeSpeech(line, said.words, { unsure, tag: undefined });
    if (!unsure && yesOrNo(line.desk, said.words, line.lang) === 'yes') {
      await agreed(line, said.words);
      return line.record(scene.words, calloutId);
    }
  }
  if (said.came === 'keys' && said.keys === '1') {
    await agreed(line, '[1] yes');
    return line.record(scene.words, calloutId);
  }
  return afterMessage(line, scene, 'not-recorded');
}

/** The consent stands in the conversation, in the caller's own words. */
async function agreed(line: Line, words: string): Promise<void> {
  const { conversationId, callId } = line.call;
  if (conversationId === null) return;
  const messageId = turnId(callId, line.turn);
  await line.tx.addEntry({
    conversationId,
    at: line.now,
    who: 'guest',
    words: `(may it be recorded?) ${words}`,
    heard: null,
    step: null,
    media: [],
    messageId,
  });
}

/** A message was left, or nothing was said after the tone: it hangs on the callout, and whoever is asked to come is told. */
export async function afterRecording(
  line: Line,
  scene: Scene,
  { calloutId }: At<'recording'>,
  said: FromCaller,
): Promise<SpokenToCaller> {
  const { tx, now, call } = line;
  const callout = await tx.callout(calloutId);
  if (said.came !== 'recording' || callout === null || call.conversationId === null) {
    return afterMessage(line, scene, 'not-recorded');
  }
  const { address, lengthS } = said;
  await tx.addRecording({ calloutId, conversationId: call.conversationId, address, lengthS, at: now });
  await tx.addEntry({
    conversationId: call.conversationId,
    at: now,
    who: 'guest',
    words: `(a recorded message of ${lengthS} s)`,
    heard: null,
    step: null,
    // Media are pictures; the recording hangs on the callout.
    media: [],
    messageId: turnId(call.callId, line.turn),
  });
  await noteAttempt(tx, callout, `the guest left a message of ${lengthS} s`, now);
  const words = `Callout ${callout.id}: the guest left a spoken message of ${lengthS} s. It is played when you are called, and on the callout's page.`;
  await tellTakerOrOffered(tx, callout, words, now);
  return afterMessage(line, scene, 'recorded');
}
