import { hearAnswer } from './answer.ts';
import { judge, type Verdict } from './danger.ts';
import {
  DANGERS,
  LANGUAGES,
  type Danger,
  type Hear,
  type Heard,
  type Language,
  type Listening,
  type Move,
} from './heard.ts';
import { hearKeyword, readHelpKeyword } from './keyword.ts';
import type { KnownWords } from './known-words.ts';
import { leaning } from './language.ts';
import type { Lexicon } from './lexicon.ts';
import { hearMove } from './move.ts';
import { hearPlace } from './place.ts';
import type { AnswerHeard } from './question.ts';
import { quote, read, type Reading, type Respell } from './reading.ts';
import { heedSecondReader } from './second/heed.ts';
import type { SecondReader } from './second/reader.ts';
import type { TopicReader } from './second/topic-reader.ts';
import { tokenise } from './tokens.ts';
import { hearTopic, type TopicHeard } from './topic.ts';

/** All that hearing needs, loaded once. */
export interface Ears {
  readonly lexicons: Readonly<Record<Language, Lexicon>>;
  readonly known: Readonly<Record<Language, KnownWords>>;
  readonly respell: Readonly<Record<Language, Respell>>;
  readonly second: Readonly<Record<Language, SecondReader | undefined>>;
  readonly topics: Readonly<Record<Language, TopicReader | undefined>>;
}

/** What one language's words made of a text. */
interface Heeded {
  readonly reading: Reading;
  readonly verdict: Verdict;
  readonly topic: TopicHeard;
  readonly answer: AnswerHeard | null;
  readonly move: Move | null;
}

/** Share of a text in the other language from which it is heard in both. */
const MIXED = 0.2;
/** So many words of the other language may be a clause of its own, however long the text. */
const CLAUSE = 2;

/** Makes hearing out of the loaded words: text and what it is heard against in, meaning out; nothing kept between texts. */
export function hearingWith(ears: Ears): Hear {
  return (text, listening = {}) => {
    const tokens = tokenise(text);
    const lean = leaning(text, tokens, ears.known);
    const lang = listening.lang ?? (lean.es > lean.en ? 'es' : 'en');
    const other = lang === 'en' ? 'es' : 'en';
    const readable = tokens.some(({ word }) => isWord(word, ears.known));
    const heed = (language: Language): Heeded => {
      const reading = read(text, tokens, ears.lexicons[language], ears.respell[language]);
      const { asked } = listening;
      const answer = asked === undefined ? null : hearAnswer(reading, { ...listening, asked });
      // One word that both languages have ("no") makes no text of the other one.
      const spoken = language === lang || lean[language] >= Math.min(CLAUSE, lean[lang]);
      const move = hearMove(reading, answer);
      return {
        reading,
        verdict: heedSecondReader(judge(reading, listening), reading, answer, ears.second[language], spoken),
        topic: withResemblance(hearTopic(reading), { reading, move }, readable ? ears.topics[language] : undefined),
        answer,
        move,
      };
    };
    const first = heed(lang);
    const mixed = lean[other] >= CLAUSE || (lean[other] > 0 && lean[other] >= MIXED * (lean.en + lean.es));
    // A text whose words tell no language is tried in both; English that says nothing is not searched for Spanish.
    const unsure = lean[lang] <= lean[other] + 1 && saysNothing(first);
    const second = mixed || unsure ? heed(other) : null;
    return compose(lang, first, second, listening);
  };
}

/** "Room 204, Marlstone Lodge" says where someone is, and resembles a delivery. */
const MOST_WORDS_OF_A_PLACE = 6;
/** One word by itself resembles too much. */
const FEWEST_WORDS_TO_RESEMBLE = 2;

/** Lets the topic reader weigh in; where it decides against the words, the whole text is what decided. */
function withResemblance(
  byWords: TopicHeard,
  { reading, move }: Pick<Heeded, 'reading' | 'move'>,
  topics: TopicReader | undefined,
): TopicHeard {
  const words = reading.tokens.length;
  if (topics === undefined || words < FEWEST_WORDS_TO_RESEMBLE) return byWords;
  if (words <= MOST_WORDS_OF_A_PLACE && Object.keys(hearPlace(reading)).length > 0) return byWords;
  // The news of a filled bottle resembles the trouble with one.
  if (move === 'refilled' && byWords.topic === 'unclear') return byWords;
  const topic = topics(reading);
  return topic === null || topic === byWords.topic
    ? byWords
    : { topic, spans: [{ start: 0, end: reading.tokens.length }] };
}

/** True for a word of either language; a text without any resembles nothing. */
function isWord(word: string, known: Ears['known']): boolean {
  return word.length > 1 && LANGUAGES.some((language) => known[language].has(word));
}

function saysNothing({ verdict, topic, answer, move }: Heeded): boolean {
  return (
    verdict.danger === 'none' &&
    topic.topic === 'unclear' &&
    move === null &&
    (answer === null || answer.answer === 'no-answer')
  );
}

function compose(lang: Language, first: Heeded, second: Heeded | null, listening: Listening): Heard {
  const readings = second === null ? [first] : [first, second];
  const keyword = readings.map(({ reading }) => hearKeyword(reading)).find((one) => one !== null) ?? null;
  const calledForHelp = keyword === 'help' && readings.some(({ reading }) => readHelpKeyword(reading));
  const answered = readings.find(({ answer }) => answer !== null && answer.answer !== 'no-answer') ?? first;
  const topical = readings.find(({ topic }) => topic.topic !== 'unclear') ?? first;
  const danger = readings.map(({ verdict }) => verdict.danger).reduce(worse, calledForHelp ? 'ask' : 'none');
  const signs = [...new Set(readings.flatMap(({ verdict }) => verdict.signs))];
  if (danger !== 'none' && signs.length === 0) signs.push('unclear');
  const isAnswer = answered.answer !== null && answered.answer.answer !== 'no-answer';
  return {
    lang,
    danger,
    signs: signs.toSorted(),
    topic: topicOf(danger, readings, topical.topic, isAnswer),
    answer: answered.answer?.answer ?? null,
    why: why(readings, isAnswer || listening.asked !== undefined ? answered : null, topical),
    keyword,
    move: readings.map(({ move }) => move).find((one) => one !== null) ?? null,
    place: hearPlace(first.reading),
  };
}

function topicOf(danger: Danger, readings: readonly Heeded[], heard: TopicHeard, isAnswer: boolean): Heard['topic'] {
  const symptom = readings.some(({ verdict }) => verdict.symptom);
  if (danger !== 'none' && symptom) return 'symptom-mild';
  if (isAnswer) return null;
  if (heard.topic === 'unclear' && symptom) return 'symptom-mild';
  return heard.topic;
}

/** The guest's words that decided: danger first, then the answer, else the topic. */
function why(readings: readonly Heeded[], answered: Heeded | null, topical: Heeded): string[] {
  const words = readings.flatMap(({ reading, verdict }) =>
    verdict.spans.map(({ start, end }) => quote(reading, start, end)),
  );
  const decided = answered?.answer?.spans ?? topical.topic.spans;
  const reading = (answered ?? topical).reading;
  words.push(...decided.map(({ start, end }) => quote(reading, start, end)));
  return [...new Set(words)].filter((one) => one !== '');
}

function worse(one: Danger, other: Danger): Danger {
  return DANGERS.indexOf(one) >= DANGERS.indexOf(other) ? one : other;
}
