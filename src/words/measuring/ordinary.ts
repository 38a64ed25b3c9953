import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Hear } from '../heard.ts';
import type { Figure } from './figures.ts';

/**
 * Ordinary English: talk, chat, films, news and stories, sentences of the package nlp-corpus (a development
 * dependency). Some of them are about real danger; what is measured is how seldom any is heard as danger at this moment.
 *
 * @param half  words are tuned and the second reader learns on the files of even number; the odd ones only measure
 */
export function ordinaryEnglish(half: 'learning' | 'measuring'): string[] {
  const builds = join(dirname(fileURLToPath(import.meta.resolve('nlp-corpus'))), '..', '..', 'builds');
  const parity = half === 'learning' ? 0 : 1;
  return readdirSync(builds)
    .filter((name) => Number(/\d+/.exec(name)?.[0]) % 2 === parity)
    .sort()
    .flatMap((name) => JSON.parse(readFileSync(join(builds, name), 'utf8')) as string[]);
}

/** How many ordinary texts are heard as `now`. */
export function falseAlarms(texts: readonly string[], hear: Hear): Figure {
  const hits = texts.filter((text) => hear(text).danger === 'now').length;
  return { name: 'ordinary texts heard as now', hits, of: texts.length, goal: { atMost: 0.001 } };
}
