/**
 * Trains the second readers: `node src/words/second/train.ts`. Learns from the tuning and practice messages in
 * `fixtures/messages/`, never from those kept aside, and from ordinary English of a text corpus; writes
 * `flows/words/<language>/second.weights` and `topics.weights`. Run it after the words or the messages change.
 */
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { LANGUAGES, TOPICS, type Danger, type Language } from '../heard.ts';
import { loadReaders } from '../load.ts';
import type { Reading } from '../reading.ts';
import { readLabelled } from '../measuring/labelled.ts';
import { ordinaryEnglish } from '../measuring/ordinary.ts';
import { featuresOf } from './features.ts';
import { learn } from './learn.ts';
import { learnTopics } from './learn-topics.ts';
import { topicFeaturesOf } from './topic-reader.ts';
import { topicBytesOf } from './topic-weights.ts';
import { bytesOf, readPieces, type Head, type Thresholds } from './reader.ts';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
/** Ordinary sentences are many and unlike guests' texts: each counts for little. */
const ORDINARY_WEIGHT = 0.05;

interface Lesson {
  readonly text: string;
  readonly danger: Danger;
  readonly weight: number;
  /** An answer, or a plain matter of the trade: too easy to choose thresholds by. */
  readonly plain?: boolean;
}

/** The labelled texts of a language that may be learned from: all but those kept aside. */
function tuningIn(folder: string) {
  return readdirSync(folder)
    .filter((file) => /^tuning.*\.jsonl$/.test(file))
    .toSorted()
    .flatMap((file) => readLabelled(join(folder, file)));
}

/** The texts to learn from in one language. */
export function lessonsIn(language: Language): Lesson[] {
  const folder = join(ROOT, 'fixtures/messages', language);
  const tuning = tuningIn(folder).map(({ text, asked, expect }) => ({
    text,
    danger: expect.danger,
    weight: 1,
    plain: asked !== undefined || expect.topic !== null,
  }));
  const practice = readFileSync(join(folder, 'practice.tsv'), 'utf8')
    .split('\n')
    .flatMap((line) => {
      const [danger, text] = line.split('\t');
      return text === undefined ? [] : [{ text, danger: danger as Danger, weight: 1 }];
    });
  const ordinary = language === 'en' ? ordinaryEnglish('learning') : [];
  return [
    ...tuning,
    ...practice,
    ...ordinary.map((text) => ({ text, danger: 'none' as const, weight: ORDINARY_WEIGHT })),
  ];
}

/** A lesson as the second reader sees it. */
interface Studied extends Lesson {
  readonly features: Uint32Array;
  readonly reading: Reading;
}

const study = (lessons: readonly Studied[], yes: (danger: Danger) => boolean): Head =>
  learn(lessons.map(({ features, danger, weight }) => ({ features, yes: yes(danger), weight })));
const isNow = (danger: Danger): boolean => danger === 'now';
const isDanger = (danger: Danger): boolean => danger !== 'none';

/** Share of harmless guests' texts that may be raised at each threshold, by resemblance alone. */
const RAISED = {
  now: 0.01,
  nowAfterAsk: 0.06,
  nowAfterLikely: 0.04,
  ask: 0.06,
  askAfterMaybe: 0.25,
};
const FOLDS = 5;

/** Chooses thresholds by cross-validation: likelihoods of each fold's harmless texts by readers that learned from the others. */
function chooseThresholds(guests: readonly Studied[], ordinary: readonly Studied[]): Thresholds {
  const now: number[] = [];
  const danger: number[] = [];
  for (let fold = 0; fold < FOLDS; fold += 1) {
    const learned = [...guests.filter((_, index) => index % FOLDS !== fold), ...ordinary];
    const heads = { now: study(learned, isNow), danger: study(learned, isDanger) };
    for (const held of guests.filter(
      (one, index) => index % FOLDS === fold && one.danger === 'none' && one.plain !== true,
    )) {
      const likely = readPieces(held.reading, heads.now, heads.danger);
      now.push(likely.now);
      danger.push(likely.danger);
    }
  }
  const exceededBy = (values: number[], share: number): number =>
    values.toSorted((a, b) => b - a)[Math.floor(values.length * share)] ?? 1;
  return {
    now: exceededBy(now, RAISED.now),
    nowAfterAsk: exceededBy(now, RAISED.nowAfterAsk),
    nowAfterLikely: exceededBy(now, RAISED.nowAfterLikely),
    ask: exceededBy(danger, RAISED.ask),
    askAfterMaybe: exceededBy(danger, RAISED.askAfterMaybe),
  };
}

/** The second reader of one language, learned from all its lessons but those whose texts are left out. */
export function trained(language: Language, read: (text: string) => Reading, leftOut: ReadonlySet<string>) {
  const studied = lessonsIn(language)
    .filter(({ text }) => !leftOut.has(text))
    .map((lesson): Studied => {
      const reading = read(lesson.text);
      return { ...lesson, reading, features: featuresOf(reading) };
    });
  const guests = studied.filter(({ weight }) => weight === 1);
  const thresholds = chooseThresholds(
    guests,
    studied.filter(({ weight }) => weight < 1),
  );
  return { now: study(studied, isNow), danger: study(studied, isDanger), thresholds, texts: guests.length };
}

/** The topic reader of one language, from every opening text with a topic and no danger. */
export function trainedTopics(language: Language, read: (text: string) => Reading, leftOut: ReadonlySet<string>) {
  const folder = join(ROOT, 'fixtures/messages', language);
  const openings = tuningIn(folder).flatMap(({ text, asked, expect }) =>
    asked === undefined && expect.danger === 'none' && expect.topic !== null ? [{ text, topic: expect.topic }] : [],
  );
  const practice = readFileSync(join(folder, 'practice-topics.tsv'), 'utf8')
    .split('\n')
    .flatMap((line) => {
      const [written, text] = line.split('\t');
      const topic = TOPICS.find((one) => one === written);
      return text === undefined || topic === undefined ? [] : [{ text, topic }];
    });
  const examples = [...openings, ...practice].filter(({ text }) => !leftOut.has(text));
  return learnTopics(examples.map(({ text, topic }) => ({ features: topicFeaturesOf(read(text)), topic })));
}

if (import.meta.main) {
  const readers = loadReaders();
  for (const language of LANGUAGES) {
    const { now, danger, thresholds, texts } = trained(language, readers[language], new Set());
    const path = join(ROOT, 'flows/words', language, 'second.weights');
    writeFileSync(path, bytesOf(now, danger, thresholds));
    const topics = trainedTopics(language, readers[language], new Set());
    writeFileSync(join(ROOT, 'flows/words', language, 'topics.weights'), topicBytesOf(topics));
    console.log(`${path}: ${texts} guests' texts`, thresholds);
  }
}
