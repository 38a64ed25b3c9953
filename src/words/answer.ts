import { hearChoice } from './answer-choice.ts';
import { hearNumber } from './answer-number.ts';
import { hearValue } from './answer-value.ts';
import { ANSWER_KINDS } from './heard.ts';
import type { AnswerHeard, Question } from './question.ts';
import type { Reading } from './reading.ts';

const NOTHING: AnswerHeard = { answer: 'no-answer', spans: [] };

/** What a text answers: a menu reply before all, then numbers where the kind is a number, then the kind's own words. */
export function hearAnswer(reading: Reading, question: Question): AnswerHeard {
  const choice = hearChoice(reading, question);
  if (choice !== null) return choice;
  const value = hearValue(reading, question);
  if (!ANSWER_KINDS[question.asked].number) return value ?? degree(reading, question) ?? NOTHING;
  const number = hearNumber(reading, question);
  if (value === null || value.answer === 'unsure') return number ?? value ?? NOTHING;
  // "an hour and a half" holds a number and says more than it.
  const [said] = value.spans;
  const [counted] = number?.spans ?? [];
  if (said !== undefined && counted !== undefined && said.start <= counted.start && said.end >= counted.end)
    return value;
  // "the ball's at the bottom, nowhere near 2": words for a place beat a number, unless the number carries its name.
  return number !== null && number.sure ? number : value;
}

/** A bare 0 to 3 for how bad it is. */
function degree(reading: Reading, question: Question): AnswerHeard | null {
  const [number] = reading.numbers;
  if (question.asked !== 'severity' || number === undefined || reading.numbers.length > 1) return null;
  const isDegree = Number.isInteger(number.value) && number.value >= 0 && number.value <= 3;
  return isDegree && number.form === 'plain' ? { answer: String(number.value), spans: [number] } : null;
}
