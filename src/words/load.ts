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
import { loadSecondReader, type SecondReader } from './second/reader.ts';
import { loadTopicReader, type TopicReader } from './second/topic-reader.ts';
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
  const { lexicons, known, respell } = loadWords(directory);
  const second = (language: Language): SecondReader | undefined =>
    loadSecondReader(join(directory, language, 'second.weights'));
  const topics = (language: Language): TopicReader | undefined =>
    loadTopicReader(join(directory, language, 'topics.weights'));
  return hearingWith({
    lexicons,
    known,
    respell,
    second: { en: second('en'), es: second('es') },
    topics: { en: topics('en'), es: topics('es') },
  });
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
  const stems = { en: stemWith(stemEnglish, 4), es: stemWith(stemSpanish, 5) };
  const lexiconOf = (language: Language): ReturnType<typeof compileLexicon> =>
    compileLexicon(language, filesIn(directory, language), stems[language]);
  const lexicons = { en: lexiconOf('en'), es: lexiconOf('es') };
  const known = { en: loadKnownWords('en'), es: loadKnownWords('es') };
  return { lexicons, known, respell: { en: respellWith(lexicons.en, known), es: respellWith(lexicons.es, known) } };
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
