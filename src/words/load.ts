import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { stemmer as stemEnglish } from '@orama/stemmers/english';
import { stemmer as stemSpanish } from '@orama/stemmers/spanish';
import { hearingWith, type Ears } from './hear.ts';
import { LANGUAGES, type Hear, type Language } from './heard.ts';
import { loadKnownWords } from './known-words.ts';
import { compileLexicon, type WordsFiles } from './lexicon.ts';
import { read, type Reading } from './reading.ts';
import { respellWith } from './respell.ts';
import { loadSecondReader } from './second/reader.ts';
import { loadTopicReader } from './second/topic-weights.ts';
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
  const hear = loadHearingLazily(directory);
  // A broken words file must stop the program that loads it, not the first guest who writes that language.
  for (const lang of LANGUAGES) hear('.', { lang });
  return hear;
}

/** The same for a program that hears little: a language's words are compiled when a text is first heard in it. */
export function loadHearingLazily(directory: string = WORDS): Hear {
  const { lexicons, known, respell } = loadWords(directory);
  const second = perLanguage((language) => loadSecondReader(join(directory, language, 'second.weights')));
  const topics = perLanguage((language) => loadTopicReader(join(directory, language, 'topics.weights')));
  return hearingWith({ lexicons, known, respell, second, topics });
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
  const stems = perLanguage((language) => (language === 'en' ? stemWith(stemEnglish, 4) : stemWith(stemSpanish, 5)));
  const lexicons = perLanguage((language) => compileLexicon(language, filesIn(directory, language), stems[language]));
  const known = perLanguage((language) => loadKnownWords(language));
  return { lexicons, known, respell: perLanguage((language) => respellWith(lexicons[language], known)) };
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
