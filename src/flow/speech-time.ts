import type { Language } from '../words/heard.ts';

/** No prompt is longer than this, seconds at a normal rate of speech. */
export const LONGEST_PROMPT_S = 20;

/**
 * Letters and digits that a voice says in a second at 160 words a minute, and its pauses. Fitted from above to what
 * espeak-ng takes for the prompts of the flows: `tests/published/speech-time.test.ts` measures it.
 */
const LETTERS_PER_S: Readonly<Record<Language, number>> = { en: 17.4, es: 15.4 };
const DIGIT_S = 0.3;
const SENTENCE_PAUSE_S = 0.5;
const COMMA_PAUSE_S = 0.4;

/** How long a voice takes to say something, seconds; rather too long than too short. Pure. */
export function secondsToSay(words: string, lang: Language): number {
  const count = (pattern: RegExp): number => words.match(pattern)?.length ?? 0;
  return (
    count(/[\p{L} '’-]/gu) / LETTERS_PER_S[lang] +
    count(/\d/g) * DIGIT_S +
    count(/[.?!]/g) * SENTENCE_PAUSE_S +
    count(/[,;:]/g) * COMMA_PAUSE_S
  );
}
