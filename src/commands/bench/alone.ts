import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { factsOfAStranger } from '../../flow/facts.ts';
import { loadBook } from '../../flow/load.ts';
import { flowsOf, listeningAt, turn } from '../../flow/turn.ts';
import type { Heard } from '../../words/heard.ts';
import { loadHearing } from '../../words/load.ts';
import { scriptOf } from '../trials/guests.ts';

/** `hear` and `turn` by themselves, in this process, on one core. */
export interface Alone {
  readonly hearPerSecond: number;
  readonly turnPerSecond: number;
}

const MESSAGES = join(import.meta.dirname, '../../../fixtures/messages');
const ROUNDS = 7;
const SCRIPTS = 40;

function median(numbers: readonly number[]): number {
  return numbers.toSorted((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? Number.NaN;
}

/** The median rate of some rounds of the same doing; the first ones, in which the engine still compiles, count as little. */
function rateOf(count: number, doIt: () => void): number {
  const rates = Array.from({ length: ROUNDS }, () => {
    const begun = performance.now();
    doIt();
    return (count / (performance.now() - begun)) * 1000;
  });
  return median(rates);
}

/** Labelled messages of both languages, as they were written. */
function messages(): readonly string[] {
  return ['en', 'es'].flatMap((lang) =>
    readFileSync(join(MESSAGES, lang, 'tuning.jsonl'), 'utf8')
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => (JSON.parse(line) as { text: string }).text),
  );
}

interface HeardText {
  readonly state: string | null;
  readonly heard: Heard;
}

/** Measures both. `hear` on the labelled messages; `turn` on what guests of all scripts say, at the states that brings. */
export function measureAlone(): Alone {
  const hear = loadHearing();
  const texts = messages();
  const hearPerSecond = rateOf(texts.length, () => {
    for (const text of texts) hear(text);
  });

  const { book } = loadBook();
  const flows = flowsOf(book);
  const facts = factsOfAStranger('Quillmere Basin Oxygen', '(970) 555-0190', '911');
  const heardTexts: HeardText[] = [];
  for (let guest = 0; guest < SCRIPTS; guest += 1) {
    let state: string | null = null;
    let step: string | null = null;
    for (const text of scriptOf(guest)) {
      const heard = hear(text, step === null ? {} : listeningAt(flows, step));
      heardTexts.push({ state, heard });
      ({ state, step } = turn(flows, { state, lang: heard.lang, facts, current: book }, heard));
    }
  }
  const TURNS_A_ROUND = 50;
  const turnPerSecond = rateOf(heardTexts.length * TURNS_A_ROUND, () => {
    for (let again = 0; again < TURNS_A_ROUND; again += 1) {
      for (const { state, heard } of heardTexts) turn(flows, { state, lang: heard.lang, facts, current: book }, heard);
    }
  });
  return { hearPerSecond, turnPerSecond };
}
