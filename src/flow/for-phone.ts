import type { Language } from '../words/heard.ts';

/**
 * Letters with an acute accent that the basic alphabet of text messages lacks (3GPP TS 23.038 has é, ñ, ü, ¿ and ¡, but not
 * á, í, ó, ú): one of them makes a part hold 70 characters in place of 160, and a long text then arrives in pieces.
 */
const NOT_IN_BASIC_ALPHABET: Readonly<Record<string, string>> = {
  á: 'a',
  í: 'i',
  ó: 'o',
  ú: 'u',
  Á: 'A',
  Í: 'I',
  Ó: 'O',
  Ú: 'U',
};

/** The wording as it goes to a phone: Spanish without the four accents that cost more than they say. */
export function forPhone(words: string, lang: Language): string {
  if (lang !== 'es') return words;
  return words.replace(/[áíóúÁÍÓÚ]/g, (letter) => NOT_IN_BASIC_ALPHABET[letter] ?? letter);
}
