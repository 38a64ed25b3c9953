import type { AnswerHeard } from './question.ts';
import { standingOf } from './context.ts';
import type { Move } from './heard.ts';
import type { Reading } from './reading.ts';

/**
 * A wish about the conversation itself (a person, a step back, the question again), or the news of a filled bottle, which
 * comes after any wish. null when there is neither.
 */
export function hearMove(reading: Reading, answer: AnswerHeard | null): Move | null {
  const moves = reading.found
    .filter((found) => found.section === 'moves' && !standingOf(found, reading).denied)
    .map((found) => found.name as Move);
  const [said] = moves.toSorted((a, b) => Number(a === 'refilled') - Number(b === 'refilled'));
  if (said !== undefined) return said;
  // "0" alone is how telephone menus taught everyone to ask for a person, unless it answers what was asked.
  const [only] = reading.tokens;
  const answers = answer !== null && answer.answer !== 'no-answer';
  return !answers && reading.tokens.length === 1 && only?.word === '0' ? 'person' : null;
}
