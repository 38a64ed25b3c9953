import type { AnswerHeard } from '../question.ts';
import type { Verdict } from '../danger.ts';
import type { Reading } from '../reading.ts';
import type { SecondReader } from './reader.ts';

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
  if (second === undefined) return trusting(verdict);
  if (!verdict.likely && !verdict.maybe && !isMoreThanAnswer(reading, answer)) return verdict;
  const { now, danger } = second.read(reading, verdict.likely ? verdict.spans : []);
  const sure = second.thresholds;
  const whole = [{ start: 0, end: reading.tokens.length }];
  if (verdict.danger === 'ask') {
    const enough = verdict.likely ? sure.nowAfterLikely : sure.nowAfterAsk;
    return now >= enough ? { ...verdict, danger: 'now' } : verdict;
  }
  if (now >= sure.now) {
    return verdict.maybe
      ? { ...verdict, danger: 'now' }
      : { ...verdict, danger: 'now', signs: ['unclear'], spans: whole };
  }
  if (verdict.maybe) return danger >= sure.askAfterMaybe ? { ...verdict, danger: 'ask' } : unsaid(verdict);
  if (danger >= sure.ask) return { ...verdict, danger: 'ask', signs: ['unclear'], spans: whole };
  return verdict;
}

function trusting(verdict: Verdict): Verdict {
  if (verdict.likely) return { ...verdict, danger: 'now' };
  return verdict.maybe ? { ...verdict, danger: 'ask' } : verdict;
}

/** What may be a sign and is taken for none names none. */
function unsaid(verdict: Verdict): Verdict {
  return { ...verdict, signs: [] };
}

function isMoreThanAnswer(reading: Reading, answer: AnswerHeard | null): boolean {
  const words = reading.tokens.length;
  if (answer === null || answer.answer === 'no-answer') return words >= FEWEST_WORDS;
  const used = answer.spans.reduce((sum, { start, end }) => sum + end - start, 0);
  return words - used >= FEWEST_BESIDE_ANSWER;
}
