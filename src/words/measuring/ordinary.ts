import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Hear } from '../heard.ts';
import type { Figure } from './figures.ts';

/** Longer sentences are stories and reports, not texts. */
const LONGEST_TEXT = 160;
/** Someone says something to someone: what parts talk from news, questions of a quiz and titles. */
const TALK = /\b(?:i|i'm|im|me|my|we|us|our|you|u|your|ur|let's|lets)\b/i;

/**
 * Ordinary English: short sentences in which someone says something to someone, from the package nlp-corpus (a
 * development dependency; chat, films, songs, forums). Some are about real danger, in songs and stories; what is measured
 * is how seldom any is heard as danger at this moment.
 *
 * @param half  words are tuned and the second reader learns on the files of even number; the odd ones only measure
 */
export function ordinaryEnglish(half: 'learning' | 'measuring'): string[] {
  const builds = join(dirname(fileURLToPath(import.meta.resolve('nlp-corpus'))), '..', '..', 'builds');
  const parity = half === 'learning' ? 0 : 1;
  return readdirSync(builds)
    .filter((name) => Number(/\d+/.exec(name)?.[0]) % 2 === parity)
    .toSorted()
    .flatMap((name) => JSON.parse(readFileSync(join(builds, name), 'utf8')) as string[])
    .filter((text) => text.length <= LONGEST_TEXT && TALK.test(text));
}

/** How many ordinary texts are heard as `now`. */
export function falseAlarms(texts: readonly string[], hear: Hear): Figure {
  const hits = texts.filter((text) => hear(text).danger === 'now').length;
  return { name: 'ordinary texts heard as now', hits, of: texts.length, goal: { atMost: 0.001 } };
}
