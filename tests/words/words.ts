import { loadHearing } from '../../src/words/load.ts';
import type { Heard, Listening } from '../../src/words/heard.ts';

/** One hearing for all tests of a file: loading is the slow part, and hearing keeps nothing between texts. */
export const hear = loadHearing();

/** What is heard in each of several texts, for tests that hold them to one outcome. */
export function heardIn(texts: readonly string[], listening: Listening = {}): Heard[] {
  return texts.map((text) => hear(text, listening));
}
