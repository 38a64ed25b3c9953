import { isAsked } from '../../flow/speak.ts';
import type { SpokenToCaller } from '../carrier.ts';
import { takenCallout } from '../callout/taken.ts';
import { isHidden } from '../guest/hidden-number.ts';
import { heardWish } from './hearing.ts';
import type { Line } from './line.ts';
import { replyToWords } from './reply.ts';
import { signsOf, standsInEmergency } from './scene.ts';
import type { Scene } from './scene.ts';
import { offeredTo, technicianCalls } from './technician-calls.ts';

/**
 * The first words of a call: who this is and what to do in danger, then the key for the other language, then the question:
 * the one that stands, or what is wrong; or, where nothing tells it, which unit it is.
 */
export async function greet(line: Line, scene: Scene): Promise<SpokenToCaller> {
  const { words, conversation, step } = scene;
  const offered = await offeredTo(line);
  if (offered !== null) return technicianCalls(line, scene, offered, { came: 'nothing' });
  const hello = [words.phrase('greeting'), words.languageOffer];
  if (conversation === null) {
    if (scene.rentalId !== null) return line.say(words, words.question(null, hello));
    await line.stand({ at: 'unit', misses: 0 });
    const hidden = isHidden(line.call.phone) ? [words.phrase('number-hidden')] : [];
    const said = [...hello, ...hidden, words.phrase('which-unit')];
    return line.spoken(words, said, line.listen(words, 'unit', 'question'));
  }
  await line.save({ conversationId: conversation.id });
  const taken = await takenCallout(line.tx, conversation.id);
  if (taken !== null) {
    await line.stand({ at: 'taken', misses: 0, calloutId: taken.callout.id });
    const said = [...hello, words.phrase('taken-already', { name: taken.taker.name })];
    return line.spoken(words, said, line.listen(words, null, 'question', 'one'));
  }
  if (standsInEmergency(scene))
    return line.say(words, words.emergency(signsOf(conversation), [words.phrase('greeting')]));
  if (step !== null && isAsked(words.step(step)))
    return line.say(words, words.question(step, [...hello, words.phrase('go-on')]));
  // The matter has an end: calling again is like texting again.
  const again = { ...heardWish(line.lang, 'again'), move: null };
  return replyToWords(line, { words: '(calls)', hear: () => again }, hello);
}
