import type { Language } from './heard.ts';
import type { KnownWords } from './known-words.ts';
import type { Token } from './tokens.ts';

/** How much of a text is in each language: a word counts more the more common it is there, and the rarer elsewhere. */
export interface Leaning {
  readonly en: number;
  readonly es: number;
}

const SPANISH_LETTERS = /[ñ¿¡áéíóú]/i;
/** What a word counts when it is known in one language only. */
const OWN_WORD = 1;

/**
 * Weighs a text between the two languages. A general guesser of many languages does worse on texts of three words than
 * the two lists of common words that spelling needs anyway.
 */
export function leaning(text: string, tokens: readonly Token[], known: Record<Language, KnownWords>): Leaning {
  let [en, es] = [0, 0];
  for (const { word } of tokens) {
    const [inEn, inEs] = [known.en.get(word), known.es.get(word)];
    if (word.length < 2 && word !== 'y' && word !== 'i' && word !== 'a' && word !== 'q') continue;
    if (inEn !== undefined && inEs === undefined) en += OWN_WORD;
    else if (inEs !== undefined && inEn === undefined) es += OWN_WORD;
    else if (inEn !== undefined && inEs !== undefined) {
      // Known in both: the list where it stands far higher wins ("no" and "me" tell little, "the" and "que" much).
      if (inEn * 4 < inEs) en += OWN_WORD;
      else if (inEs * 4 < inEn) es += OWN_WORD;
    }
  }
  if (SPANISH_LETTERS.test(text)) es += 1;
  return { en, es };
}
