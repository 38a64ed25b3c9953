import { ENGINE } from '../../flow/machine.ts';
import { StateNotRestored, listeningAt, stepOfState } from '../../flow/turn.ts';
import type { Flows } from '../../flow/turn.ts';
import { wallClock } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Heard, Language, Topic } from '../../words/heard.ts';
import type { Conversation, GuestPhone } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** Texts shorter than this many words say too little about their language to change it. */
const WORDS_TO_CHANGE_LANGUAGE = 3;

function tooShortForLanguage(text: string): boolean {
  return text.trim().split(/\s+/).length < WORDS_TO_CHANGE_LANGUAGE;
}

/** The step at which a conversation stands; null when its state cannot be restored by this engine and these flows. */
export function standingStep(flows: Flows, conversation: Conversation): string | null {
  if (conversation.engine !== ENGINE) return null;
  try {
    return stepOfState(flows, conversation.state);
  } catch (error) {
    if (error instanceof StateNotRestored) return null;
    throw error;
  }
}

/** Hears a text against the step that stands; a short one in the language the guest is known to write. */
export function hearAt(
  desk: Surroundings,
  text: string,
  at: { readonly flows: Flows; readonly step: string | null; readonly knownLanguage: Language | null },
  now: Instant,
): Heard {
  const listening = at.step === null ? {} : listeningAt(at.flows, at.step);
  const hearing = {
    ...(at.knownLanguage !== null && tooShortForLanguage(text) ? { lang: at.knownLanguage } : {}),
    now: wallClock(now, desk.outfit.zone).toString({ timeZoneName: 'never' }),
  };
  const heard = desk.hear(text, { ...listening, ...hearing });
  return listening.asked === 'outlet-place' ? newsFirst(heard, desk.hear(text, hearing)) : heard;
}

const NEWS_OF_THE_UNIT: readonly (Topic | null)[] = [
  'no-power',
  'continuous-alarm',
  'intermittent-alarm',
  'overflow-alarm',
  'low-or-no-flow',
];

/** "By the bed, and it beeps again": what the guest was asked in passing must not cover up what they tell. */
function newsFirst(heard: Heard, unasked: Heard): Heard {
  return NEWS_OF_THE_UNIT.includes(unasked.topic) ? { ...unasked, answer: 'no-answer' } : heard;
}

/** The language to answer in: the one last written at some length. */
export function languageOf(heard: Heard, known: Language | null, text: string): Language {
  return known === null || !tooShortForLanguage(text) ? heard.lang : known;
}

export function knownLanguage(conversation: Conversation | null, phone: GuestPhone): Language | null {
  return conversation?.lang ?? phone.lang;
}

/** A text that only says where the guest is answers no question: the question is said again. */
export function placeAlone(heard: Heard): Heard {
  const nothingElse =
    heard.danger === 'none' && heard.move === null && (heard.topic === null || heard.topic === 'unclear');
  const named = heard.place.room !== undefined || heard.place.tag !== undefined;
  const unanswered = heard.answer === null || heard.answer === 'no-answer';
  return named && nothingElse && unanswered ? { ...heard, move: 'again' } : heard;
}

/** The hours that a text names ("20 hours", "since ten"); 0 when it names none. */
export function hoursNamed(desk: Surroundings, text: string, lang: Language, now: Instant): number {
  const at = wallClock(now, desk.outfit.zone).toString({ timeZoneName: 'never' });
  const { answer } = desk.hear(text, { asked: 'hours', lang, now: at });
  return typeof answer === 'number' ? answer : 0;
}

/** Shorter first texts are greetings. */
const WORDS_OF_A_GREETING = 2;

/** A first text that names no matter, and is more than a greeting: it was not understood. */
export function saysNothing({ danger, topic, move, keyword, place }: Heard, text: string): boolean {
  const words = text.trim().split(/\s+/).length;
  const named = place.room !== undefined || place.tag !== undefined;
  const nothing = danger === 'none' && move === null && keyword === null && (topic === null || topic === 'unclear');
  return nothing && !named && words > WORDS_OF_A_GREETING;
}
