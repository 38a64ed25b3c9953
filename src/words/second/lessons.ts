import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { TOPICS, type Danger, type Language, type Listening, type Topic } from '../heard.ts';
import { readLabelled } from '../measuring/labelled.ts';
import { ordinaryEnglish } from '../measuring/ordinary.ts';

const MESSAGES = fileURLToPath(new URL('../../../fixtures/messages', import.meta.url));
/** Ordinary sentences are many and unlike guests' texts: each counts for little. */
const ORDINARY_WEIGHT = 0.1;

/** A text to learn danger from. */
export interface Lesson {
  readonly text: string;
  readonly danger: Danger;
  /** how much it counts; a guest's text counts 1 */
  readonly weight: number;
  /** the labelled file it is from: texts of one file are of one hand */
  readonly file: string;
  readonly listening: Listening;
  /** an opening or an answer: too plain to choose thresholds by */
  readonly plain: boolean;
}

/** A text to learn topics from. */
export interface TopicLesson {
  readonly text: string;
  readonly topic: Topic;
}

/** The labelled texts of a language that may be learned from: all but those kept aside. */
function labelledIn(language: Language) {
  return filesIn(language, /^(tuning|unlearned).*\.jsonl$/).flatMap((file) =>
    readLabelled(join(MESSAGES, language, file)).map((one) => ({ ...one, file })),
  );
}

function filesIn(language: Language, name: RegExp): string[] {
  return readdirSync(join(MESSAGES, language))
    .filter((file) => name.test(file))
    .toSorted();
}

/** Lines of two columns: a label and a text. */
function practiceIn(language: Language, file: string): [label: string, text: string][] {
  return readFileSync(join(MESSAGES, language, file), 'utf8')
    .split('\n')
    .flatMap((line) => {
      const [label = '', text] = line.split('\t');
      return text === undefined ? [] : [[label, text] as [string, string]];
    });
}

/** The texts of one language to learn danger from. */
export function dangerLessons(language: Language): Lesson[] {
  const tuning = labelledIn(language).map(({ text, asked, choices, now, expect, file }): Lesson => {
    return {
      text,
      danger: expect.danger,
      weight: 1,
      file,
      listening: { asked, choices: choices?.map(String), now },
      plain: asked !== undefined || expect.topic !== null,
    };
  });
  const practice = filesIn(language, /^practice(-\d+)?\.tsv$/).flatMap((file) =>
    practiceIn(language, file).map(([label, text]): Lesson => {
      return { text, danger: label as Danger, weight: 1, file, listening: {}, plain: false };
    }),
  );
  // What is said of a mild symptom is at times worth a question; all other openings are harmless.
  const openings = openingsIn(language)
    .filter(({ topic }) => topic !== 'symptom-mild')
    .map(({ text, file }): Lesson => ({ text, danger: 'none', weight: 1, file, listening: {}, plain: true }));
  const ordinary = (language === 'en' ? ordinaryEnglish('learning') : []).map((text): Lesson => {
    return { text, danger: 'none', weight: ORDINARY_WEIGHT, file: 'ordinary', listening: {}, plain: true };
  });
  return [...tuning, ...practice, ...openings, ...ordinary];
}

/** The texts of one language to learn topics from: every opening text with a topic and no danger. */
export function topicLessons(language: Language): TopicLesson[] {
  const openings = labelledIn(language).flatMap(({ text, asked, expect }) =>
    asked === undefined && expect.danger === 'none' && expect.topic !== null ? [{ text, topic: expect.topic }] : [],
  );
  return [...openings, ...openingsIn(language)];
}

/** The openings of the practice files. */
function openingsIn(language: Language): (TopicLesson & { readonly file: string })[] {
  return filesIn(language, /^practice-topics.*\.tsv$/).flatMap((file) =>
    practiceIn(language, file).flatMap(([label, text]) => {
      const topic = TOPICS.find((one) => one === label);
      return topic === undefined ? [] : [{ text, topic, file }];
    }),
  );
}
