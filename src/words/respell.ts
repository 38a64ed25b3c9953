import type { KnownWords } from './known-words.ts';
import type { Language } from './heard.ts';
import type { Lexicon } from './lexicon.ts';
import type { Respell } from './reading.ts';
import { spellToward, type SpellingIndex } from './spelling.ts';

/** The commonest words of the language are worth finding behind a slip too: they hold the phrases together. */
const COMMON = 3000;
/** Halves of two words run together must both be as common as this, or stand in the lexicon. */
const COMMON_HALF = 1500;

/**
 * Brings an unknown word to a known one: split where two words ran together ("cantbreathe"), else the nearest spelling.
 * Words that are known in either language, or to the lexicon, are left alone.
 */
export function respellWith(
  lexicon: Lexicon,
  known: Readonly<Record<Language, KnownWords>>,
  index: SpellingIndex,
): Respell {
  const own = known[lexicon.language];
  const spell = spellToward(index);
  const inLexicon = (word: string): boolean =>
    lexicon.exact.has(word) || lexicon.stems.has(lexicon.stem(word)) || lexicon.rewrites.has(word);
  const half = (word: string): boolean =>
    (lexicon.written.has(word) || lexicon.rewrites.has(word) || (own.get(word) ?? Infinity) < COMMON_HALF) &&
    word.length > 1;

  function split(word: string): [string, string] | null {
    for (let at = word.length - 3; at >= 2; at -= 1) {
      const [left, right] = [word.slice(0, at), word.slice(at)];
      if (half(left) && half(right)) return [left, right];
    }
    return null;
  }

  return (word) => {
    if (word.length < 4 || /\d/.test(word) || known.en.has(word) || known.es.has(word) || inLexicon(word))
      return [word];
    const near = spell(word);
    if (near !== word) return [near];
    return (word.length >= 6 ? split(word) : null) ?? [word];
  };
}

/** Words worth finding behind a slip: those of the phrases, their forms that people really write, and the commonest. */
export function wordsToSpell(lexicon: Lexicon, own: KnownWords): Set<string> {
  const forms: string[] = [];
  const common: string[] = [];
  for (const [word, rank] of own) {
    if (lexicon.stems.has(lexicon.stem(word))) forms.push(word);
    if (rank < COMMON) common.push(word);
  }
  return new Set([...lexicon.written, ...forms, ...common]);
}
