import type { AnswerHeard } from '../answer.ts';
import type { Verdict } from '../danger.ts';
import type { Reading } from '../reading.ts';
import type { SecondReader } from './reader.ts';

/** Likelihood from which the second reader raises danger, chosen on texts it had not learned from (cross-validation). */
const SURE_OF_NOW = 0.8;
const SURE_OF_DANGER = 0.8;
/** Where the words already say `ask`, or likely `now`, less is enough to say `now`. */
const SURE_AFTER_ASK = 0.6;
const SURE_AFTER_LIKELY = 0.25;
/** Shorter texts say too little to be read by resemblance. */
const FEWEST_WORDS = 3;
/** An answer with fewer other words than this is only an answer. */
const FEWEST_BESIDE_ANSWER = 4;

/**
 * Lets the second reader raise the words' verdict, never lower it: where they heard nothing, or only something to ask
 * about, and the text is more than an answer.
 */
export function heedSecondReader(
  verdict: Verdict,
  reading: Reading,
  answer: AnswerHeard | null,
  second: SecondReader | undefined,
): Verdict {
  if (verdict.danger === 'now') return verdict;
  // Without a second reader what is likely is taken as so.
  if (second === undefined) return verdict.likely ? { ...verdict, danger: 'now' } : verdict;
  if (!verdict.likely && !isMoreThanAnswer(reading, answer)) return verdict;
  const { now, danger } = second(reading);
  const whole = [{ start: 0, end: reading.tokens.length }];
  if (verdict.danger === 'ask') {
    const enough = verdict.likely ? SURE_AFTER_LIKELY : SURE_AFTER_ASK;
    return now >= enough ? { ...verdict, danger: 'now' } : verdict;
  }
  if (now >= SURE_OF_NOW) return { ...verdict, danger: 'now', signs: ['unclear'], spans: whole };
  if (danger >= SURE_OF_DANGER) return { ...verdict, danger: 'ask', signs: ['unclear'], spans: whole };
  return verdict;
}

function isMoreThanAnswer(reading: Reading, answer: AnswerHeard | null): boolean {
  const words = reading.tokens.length;
  if (answer === null || answer.answer === 'no-answer') return words >= FEWEST_WORDS;
  const used = answer.spans.reduce((sum, { start, end }) => sum + end - start, 0);
  return words - used >= FEWEST_BESIDE_ANSWER;
}
