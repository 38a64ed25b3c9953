import { AGAIN_KEY, BACK_KEY, PERSON_KEY, answerOfKeys, answersByKey, isKeyedIn, isWish } from '../../flow/speak.ts';
import { OPENING } from '../../flow/book.ts';
import { wallClock } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { NOTHING_HEARD } from '../../words/heard.ts';
import type { Heard, Language, Move } from '../../words/heard.ts';
import type { HeardAt } from '../guest/take-words.ts';
import type { Surroundings } from '../surroundings.ts';

/** Below this the recognition says itself that it is guessing. Own caution, no source. */
const UNSURE_BELOW = 0.5;
/** What recognition reports where it does not tell how sure it is: 0 stands for "not set". From memory of its documents. */
const NOT_TOLD = 0;

export function isUnsure(confidence: number): boolean {
  return confidence !== NOT_TOLD && confidence < UNSURE_BELOW;
}

/** What a wish by key, or by silence, comes to. */
export function heardWish(lang: Language, move: Move, tag?: string): Heard {
  return { ...NOTHING_HEARD, lang, move, place: tag === undefined ? {} : { tag } };
}

/** What keys mean where a question stands; null when they mean nothing there. */
export function heardKeys(
  { flows, step }: Pick<HeardAt, 'flows' | 'step'>,
  keys: string,
  lang: Language,
): Heard | null {
  const asked = flows.steps.get(step ?? OPENING);
  const single = keys.length > 1 ? keys.replace(/#$/, '') : keys;
  if (single === PERSON_KEY) return heardWish(lang, 'person');
  if (single === BACK_KEY) return heardWish(lang, 'back');
  if (single === AGAIN_KEY) return heardWish(lang, 'again');
  const answer = asked === undefined ? null : answerOfKeys(asked, keys);
  return answer === null ? null : { ...NOTHING_HEARD, lang, answer, why: [keys] };
}

/**
 * What was said in a call, heard against the question that stands. A number is taken as the key of that number. What the
 * recognition was not sure of is never less than a question when it holds a danger sign, and never an emergency by itself.
 */
export function heardSpeech(
  desk: Surroundings,
  said: { readonly words: string; readonly unsure: boolean; readonly lang: Language; readonly tag?: string },
  { flows, step }: Pick<HeardAt, 'flows' | 'step'>,
  now: Instant,
): Heard {
  const asked = flows.steps.get(step ?? OPENING);
  const byKey = asked === undefined || isKeyedIn(asked) ? [] : answersByKey(asked);
  const heard = desk.hear(said.words, {
    ...(asked?.hears === undefined ? {} : { asked: asked.hears }),
    ...(byKey.length === 0 ? {} : { choices: byKey }),
    lang: said.lang,
    now: wallClock(now, desk.outfit.zone).toString({ timeZoneName: 'never' }),
  });
  return {
    ...heard,
    // Those are words that the carrier takes from texts; in a call they are words like others.
    keyword: null,
    move: isWish(desk.flows.book.voice, 'person', said.words, said.lang) ? 'person' : heard.move,
    danger: said.unsure && heard.danger === 'now' ? 'ask' : heard.danger,
    place: said.tag === undefined || heard.place.tag !== undefined ? heard.place : { ...heard.place, tag: said.tag },
  };
}

/** Whether anything was understood: an answer, a matter, a wish, a place or danger. */
export function saysSomething(heard: Heard): boolean {
  return (
    heard.danger !== 'none' ||
    heard.move !== null ||
    (heard.answer !== null && heard.answer !== 'no-answer') ||
    (heard.topic !== null && heard.topic !== 'unclear') ||
    heard.place.tag !== undefined ||
    heard.place.room !== undefined
  );
}

/** A plain yes or no in a call, as to "I heard ... Is that right?"; null when it is neither. */
export function yesOrNo(desk: Surroundings, words: string, lang: Language): 'yes' | 'no' | null {
  const { answer, danger } = desk.hear(words, { asked: 'yes-no', choices: ['yes', 'no'], lang });
  return danger === 'none' && (answer === 'yes' || answer === 'no') ? answer : null;
}
