/**
 * Trains the second readers: `node src/words/second/train.ts`. Learns from the tuning and practice messages in
 * `fixtures/messages/`, never from those kept aside, and from ordinary English of a text corpus; writes
 * `flows/words/<language>/second.weights` and `topics.weights`. Run it after the words or the messages change; one
 * language by its name: `node src/words/second/train.ts es`.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { hearAnswer } from '../answer.ts';
import { judge, type Verdict } from '../danger.ts';
import { LANGUAGES, type Danger, type Language } from '../heard.ts';
import { loadReaders } from '../load.ts';
import type { Reading } from '../reading.ts';
import { featuresOf, sentencesOf, sharedFeaturesOf, wholeFeaturesOf } from './features.ts';
import { isWorthReading } from './heed.ts';
import { learn, type Example } from './learn.ts';
import { learnTopics } from './learn-topics.ts';
import { dangerLessons, topicLessons, type Lesson } from './lessons.ts';
import type { Head } from './head.ts';
import { bytesOf, readPieces, type Leaning, type Thresholds } from './reader.ts';
import { topicBytesOf } from './topic-weights.ts';

const WORDS = fileURLToPath(new URL('../../../flows/words', import.meta.url));

type Readers = Readonly<Record<Language, (text: string) => Reading>>;
type Question = 'now' | 'danger';

/** A lesson as the second reader sees it. */
export interface Studied extends Lesson {
  readonly reading: Reading;
  readonly verdict: Verdict;
  /** whether the second reader is asked about it at all */
  readonly read: boolean;
}

/** A sentence of a harmless text is harmless too, and teaches half as much. */
const SENTENCE_WEIGHT = 0.5;
/** What the other language's texts teach, through what does not depend on the language. */
const OTHER_LANGUAGE_WEIGHT = 0.15;
/** To the question whether it is `now`, a text to ask about is no plain no. */
const ASK_WEIGHT = 0.3;
/** Files that thresholds are chosen on: texts of all kinds, with few twins. */
const CHOSEN_ON = /^(tuning-[2-5]|unlearned-1)\.jsonl$/;
/**
 * Share of harmless texts that may be heard as `now` and as `ask`, among those that are neither openings nor answers:
 * these are a quarter of what is harmless, most of them made to mislead, and the rest is hardly ever misheard.
 */
const RAISED = { now: 0.03, ask: 0.08 };

/** All lessons of a language, read. */
export function studiedIn(language: Language, readers: Readers): Studied[] {
  return dangerLessons(language).map((lesson) => {
    const reading = readers[language](lesson.text);
    const verdict = judge(reading, lesson.listening);
    const { asked } = lesson.listening;
    const answer = asked === undefined ? null : hearAnswer(reading, { ...lesson.listening, asked });
    return { ...lesson, reading, verdict, read: isWorthReading(verdict, reading, answer) };
  });
}

function examplesOf(lessons: readonly Studied[], question: Question): Example[] {
  return lessons.flatMap(({ reading, danger, weight, file }) => {
    const counts = question === 'now' && danger === 'ask' ? weight * ASK_WEIGHT : weight;
    const whole = { features: wholeFeaturesOf(reading), yes: isYes(danger, question), weight: counts };
    if (danger !== 'none' || file === 'ordinary') return [whole];
    const sentences = sentencesOf(reading).map((piece) => featuresOf(reading, piece));
    return [whole, ...sentences.map((features) => ({ features, yes: false, weight: weight * SENTENCE_WEIGHT }))];
  });
}

function isYes(danger: Danger, question: Question): boolean {
  return question === 'now' ? danger === 'now' : danger !== 'none';
}

function examplesOfOther(lessons: readonly Studied[], question: Question): Example[] {
  return lessons
    .filter(({ file }) => file !== 'ordinary')
    .map(({ reading, danger }) => ({
      features: sharedFeaturesOf(reading),
      yes: isYes(danger, question),
      weight: OTHER_LANGUAGE_WEIGHT,
    }));
}

/** Both heads, learned from some lessons of a language and from the other language's. */
export function headsFrom(lessons: readonly Studied[], others: readonly Studied[]): { now: Head; danger: Head } {
  const head = (question: Question): Head =>
    learn([...examplesOf(lessons, question), ...examplesOfOther(others, question)]);
  return { now: head('now'), danger: head('danger') };
}

/** Leanings of all texts of files that the words were not tuned on first, each by heads that learned from the other files. */
export function crossValidated(lessons: readonly Studied[], others: readonly Studied[]): Map<Studied, Leaning> {
  const leanings = new Map<Studied, Leaning>();
  const files = new Set(lessons.map(({ file }) => file).filter((file) => CHOSEN_ON.test(file)));
  for (const held of files) {
    const { now, danger } = headsFrom(
      lessons.filter(({ file }) => file !== held),
      others,
    );
    for (const lesson of lessons) {
      if (lesson.file !== held) continue;
      const { reading, verdict } = lesson;
      leanings.set(lesson, readPieces(reading, now, danger, verdict.spans));
    }
  }
  return leanings;
}

/** The log odds above which no more than the allowed share of harmless texts are raised, beside what the words are firm about. */
function thresholdsFor(leanings: ReadonlyMap<Studied, Leaning>): Thresholds {
  const harmless = [...leanings].filter(([{ danger, plain }]) => danger === 'none' && !plain);
  const exceededBy = (values: number[], count: number): number =>
    values.toSorted((a, b) => b - a)[Math.max(0, Math.floor(count))] ?? 0;
  const heardNow = harmless.filter(([{ verdict }]) => verdict.danger === 'now').length;
  const open = harmless.filter(([{ read, verdict }]) => read && verdict.danger !== 'now');
  const now = exceededBy(
    open.map(([, leaning]) => leaning.now),
    harmless.length * RAISED.now - heardNow,
  );
  const rest = open.filter(([, leaning]) => leaning.now < now).map(([, { danger }]) => danger);
  return { now, ask: exceededBy(rest, harmless.length * RAISED.ask) };
}

if (import.meta.main) {
  const readers = loadReaders();
  const studied = { en: studiedIn('en', readers), es: studiedIn('es', readers) };
  const named = process.argv.slice(2);
  for (const language of LANGUAGES.filter((one) => named.length === 0 || named.includes(one))) {
    const [lessons, others] = [studied[language], studied[language === 'en' ? 'es' : 'en']];
    const thresholds = thresholdsFor(crossValidated(lessons, others));
    const { now, danger } = headsFrom(lessons, others);
    const folder = join(WORDS, language);
    writeFileSync(join(folder, 'second.weights'), bytesOf(now, danger, thresholds));
    const topics = topicLessons(language).map(({ text, topic }) => {
      return { features: wholeFeaturesOf(readers[language](text)), topic };
    });
    writeFileSync(join(folder, 'topics.weights'), topicBytesOf(learnTopics(topics)));
    console.log(`${folder}: ${lessons.length} texts, ${topics.length} openings`, thresholds);
  }
}
