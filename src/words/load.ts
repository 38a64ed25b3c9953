import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { stemmer as stemEnglish } from '@orama/stemmers/english';
import { stemmer as stemSpanish } from '@orama/stemmers/spanish';
import { kept } from '../reading/kept.ts';
import { hearingWith, type Ears } from './hear.ts';
import { LANGUAGES, type Hear, type Language } from './heard.ts';
import type { Stem } from './grammar.ts';
import { loadKnownWords, type KnownWords } from './known-words.ts';
import { compileLexicon, type Lexicon, type WordsFiles } from './lexicon.ts';
import { read, type Reading } from './reading.ts';
import { respellWith, wordsToSpell } from './respell.ts';
import { loadSecondReader } from './second/reader.ts';
import { loadTopicReader } from './second/topic-weights.ts';
import { indexForSpelling, type SpellingIndex } from './spelling.ts';
import { stemWith } from './stem.ts';
import { tokenise } from './tokens.ts';

const WORDS = fileURLToPath(new URL('../../flows/words', import.meta.url));

/**
 * Loads the words the desk listens for and returns hearing. Reads files once; what is returned reads none.
 *
 * @param directory  holds a folder of YAML files per language (`en`, `es`)
 * @throws Error with file, line, column, what came and what is allowed, when a words file is wrong
 */
export function loadHearing(directory: string = WORDS): Hear {
  return loadHearings(directory).hear;
}

/** Hearing, and hearing by the words alone, without second readers: sooner and less well. */
export interface Hearings {
  readonly hear: Hear;
  readonly hearWords: Hear;
}

/** The same as `loadHearing`, both ways. */
export function loadHearings(directory: string = WORDS): Hearings {
  const hearings = hearingsIn(directory);
  // A broken words file must stop the program that loads it, not the first guest who writes that language.
  for (const lang of LANGUAGES) hearings.hear('.', { lang });
  return hearings;
}

/** The same for a program that hears little: a language's words are compiled when a text is first heard in it. */
export function loadHearingLazily(directory: string = WORDS): Hear {
  return hearingsIn(directory).hear;
}

function hearingsIn(directory: string): Hearings {
  const { lexicons, known, respell } = loadWords(directory);
  const second = perLanguage((language) => loadSecondReader(join(directory, language, 'second.weights')));
  const topics = perLanguage((language) => loadTopicReader(join(directory, language, 'topics.weights')));
  const none = { en: undefined, es: undefined };
  return {
    hear: hearingWith({ lexicons, known, respell, second, topics }),
    hearWords: hearingWith({ lexicons, known, respell, second: none, topics: none }),
  };
}

/** A value for each language, made when it is first asked for. */
function perLanguage<T>(make: (language: Language) => T): Readonly<Record<Language, T>> {
  const made = new Map<Language, T>();
  const get = (language: Language): T => {
    if (!made.has(language)) made.set(language, make(language));
    return made.get(language) as T;
  };
  return {
    get en() {
      return get('en');
    },
    get es() {
      return get('es');
    },
  };
}

/** Reading without judging, per language, as the second reader learns from it. */
export function loadReaders(directory: string = WORDS): Record<Language, (text: string) => Reading> {
  const { lexicons, respell } = loadWords(directory);
  const reader =
    (language: Language) =>
    (text: string): Reading =>
      read(text, tokenise(text), lexicons[language], respell[language]);
  return { en: reader('en'), es: reader('es') };
}

function loadWords(directory: string): Pick<Ears, 'lexicons' | 'known' | 'respell'> {
  const compiled = perLanguage((language) => {
    const files = filesIn(directory, language);
    const make = (): Compiled => compile(language, files);
    // Only the words that ship are kept: a folder of a test or a trial would push them out.
    const origins = { sources: files.map(({ source }) => source), rooms: ['words'] };
    return directory === WORDS ? kept(`words-${language}`, origins, make) : make();
  });
  const lexicons = perLanguage((language) => ({ ...compiled[language].words, stem: STEMS[language] }));
  const known = perLanguage((language) => compiled[language].known);
  const respell = perLanguage((language) => respellWith(lexicons[language], known, compiled[language].spelling));
  return { lexicons, known, respell };
}

/** What one language's words come to, without what is code. */
interface Compiled {
  readonly words: Omit<Lexicon, 'stem'>;
  readonly known: KnownWords;
  readonly spelling: SpellingIndex;
}

const STEMS: Readonly<Record<Language, Stem>> = { en: stemWith(stemEnglish, 4), es: stemWith(stemSpanish, 5) };

function compile(language: Language, files: WordsFiles): Compiled {
  const { stem, ...words } = compileLexicon(language, files, STEMS[language]);
  const known = loadKnownWords(language);
  return { words, known, spelling: indexForSpelling(wordsToSpell({ ...words, stem }, known)) };
}

function filesIn(directory: string, language: Language): WordsFiles {
  const folder = join(directory, language);
  const names = readdirSync(folder).filter((name) => name.endsWith('.yaml'));
  if (names.length === 0) {
    throw new Error(`${folder}: no .yaml files; each of ${LANGUAGES.join(', ')} needs its words there`);
  }
  return names
    .toSorted()
    .map((name) => ({ name: `${language}/${name}`, source: readFileSync(join(folder, name), 'utf8') }));
}
