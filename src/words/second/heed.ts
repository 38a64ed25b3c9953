import type { AnswerHeard } from '../question.ts';
import type { Verdict } from '../danger.ts';
import type { Danger } from '../heard.ts';
import type { Reading } from '../reading.ts';
import type { SecondReader } from './reader.ts';

/** Shorter texts say too little to be read by resemblance. */
const FEWEST_WORDS = 3;
/** An answer with fewer other words than this is only an answer. */
const FEWEST_BESIDE_ANSWER = 4;

/**
 * Lets the second reader settle what the words leave open. What they are firm about stands, and the reader may only
 * raise it. Their other finds, and texts in which they heard nothing, are danger where the reader thinks so: it knows
 * the finds, and how often each is only a figure of speech.
 *
 * @param spoken whether the text is in the reader's language; of another it judges only what the words found
 */
export function heedSecondReader(
  verdict: Verdict,
  reading: Reading,
  answer: AnswerHeard | null,
  second: SecondReader | undefined,
  spoken: boolean,
): Verdict {
  if (verdict.danger === 'now') return verdict;
  // Without a second reader what is likely is taken as so.
  if (second === undefined) return trusting(verdict);
  if (!(spoken ? isWorthReading(verdict, reading, answer) : hasFinds(verdict))) return verdict;
  const { now, danger } = second.read(reading, verdict.spans);
  if (now >= second.thresholds.now) return raised(verdict, 'now', reading);
  if (verdict.firm) return verdict;
  if (danger >= second.thresholds.ask) return raised(verdict, 'ask', reading);
  // What may be a sign and is taken for none names none.
  return { ...verdict, danger: 'none', signs: [], spans: [] };
}

/** True where the second reader is asked: the words heard something, or the text is more than an answer. */
export function isWorthReading(verdict: Verdict, reading: Reading, answer: AnswerHeard | null): boolean {
  return hasFinds(verdict) || isMoreThanAnswer(reading, answer);
}

function hasFinds(verdict: Verdict): boolean {
  return verdict.danger !== 'none' || verdict.maybe;
}

/** The signs the words named stand; where they named none, the whole text is what decided. */
function raised(verdict: Verdict, danger: Danger, reading: Reading): Verdict {
  if (verdict.signs.length > 0) return { ...verdict, danger };
  return { ...verdict, danger, signs: ['unclear'], spans: [{ start: 0, end: reading.tokens.length }] };
}

function trusting(verdict: Verdict): Verdict {
  if (verdict.likely) return { ...verdict, danger: 'now' };
  return verdict.maybe ? { ...verdict, danger: 'ask' } : verdict;
}

function isMoreThanAnswer(reading: Reading, answer: AnswerHeard | null): boolean {
  const words = reading.tokens.length;
  if (answer === null || answer.answer === 'no-answer') return words >= FEWEST_WORDS;
  const used = answer.spans.reduce((sum, { start, end }) => sum + end - start, 0);
  return words - used >= FEWEST_BESIDE_ANSWER;
}
