/**
 * Trains the second readers: `node src/words/second/train.ts`. Learns from the tuning and practice messages in
 * `fixtures/messages/`, never from those kept aside, and from ordinary English of a text corpus; writes
 * `flows/words/<language>/second.weights`. Run it after the words or the messages change.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { LANGUAGES, type Danger, type Language } from '../heard.ts';
import { loadReaders } from '../load.ts';
import { readLabelled } from '../measuring/labelled.ts';
import { ordinaryEnglish } from '../measuring/ordinary.ts';
import { featuresOf } from './features.ts';
import { learn, type Example } from './learn.ts';
import { bytesOf } from './reader.ts';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
/** Ordinary sentences are many and unlike guests' texts: one in five is learned from, and counts for little. */
const ORDINARY_EVERY = 1;
const ORDINARY_WEIGHT = 0.02;

interface Lesson {
  readonly text: string;
  readonly danger: Danger;
  readonly weight: number;
}

/** The texts to learn from in one language. */
export function lessonsIn(language: Language): Lesson[] {
  const folder = join(ROOT, 'fixtures/messages', language);
  const tuning = readLabelled(join(folder, 'tuning.jsonl')).map(({ text, expect }) => ({
    text,
    danger: expect.danger,
    weight: 1,
  }));
  const practice = readFileSync(join(folder, 'practice.tsv'), 'utf8')
    .split('\n')
    .flatMap((line) => {
      const [danger, text] = line.split('\t');
      return text === undefined ? [] : [{ text, danger: danger as Danger, weight: 1 }];
    });
  const ordinary =
    language === 'en' ? ordinaryEnglish('learning').filter((_, index) => index % ORDINARY_EVERY === 0) : [];
  return [
    ...tuning,
    ...practice,
    ...ordinary.map((text) => ({ text, danger: 'none' as const, weight: ORDINARY_WEIGHT })),
  ];
}

if (import.meta.main) {
  const readers = loadReaders();
  for (const language of LANGUAGES) {
    const lessons = lessonsIn(language).map(({ text, danger, weight }) => ({
      features: featuresOf(readers[language](text)),
      danger,
      weight,
    }));
    const asking = (yes: (danger: Danger) => boolean): Example[] =>
      lessons.map(({ features, danger, weight }) => ({ features, yes: yes(danger), weight }));
    const now = learn(asking((danger) => danger === 'now'));
    const any = learn(asking((danger) => danger !== 'none'));
    const path = join(ROOT, 'flows/words', language, 'second.weights');
    writeFileSync(path, bytesOf(now, any));
    console.log(`${path}: ${lessons.length} texts`);
  }
}
