import { hearChoice } from './answer-choice.ts';
import { hearDegree } from './answer-degree.ts';
import { hearNumber } from './answer-number.ts';
import { hearValue } from './answer-value.ts';
import { ANSWER_KINDS } from './heard.ts';
import type { AnswerHeard, Question } from './question.ts';
import type { Reading } from './reading.ts';
import { aids } from './taken-back.ts';

const NOTHING: AnswerHeard = { answer: 'no-answer', spans: [] };

/** What a text answers: a menu reply before all, then numbers where the kind is a number, then the kind's own words. */
export function hearAnswer(reading: Reading, question: Question): AnswerHeard {
  const choice = hearChoice(reading, question);
  if (choice !== null) return choice;
  const value = hearValue(reading, question);
  if (question.asked === 'severity') return hearDegree(reading) ?? value ?? NOTHING;
  if (!ANSWER_KINDS[question.asked].number) return value ?? NOTHING;
  const number = hearNumber(reading, question);
  if (value === null || value.answer === 'unsure') return number ?? value ?? NOTHING;
  if (number === null) return value;
  if (number.corrected !== value.corrected) return number.corrected > value.corrected ? number : value;
  const [said] = value.spans;
  const [counted] = number.spans;
  // "me and my two kids" holds "me and my"; "above the ten" holds a number and says more than it.
  if (number.composed && said !== undefined && counted !== undefined && covers(counted, said)) return number;
  if (counted !== undefined && saysMore(value.answer, counted, reading, question)) return value;
  if (saysNoOnly(value, reading)) return number;
  // "the ball's at the bottom, nowhere near 2": words for a place beat a number, unless the number carries its name.
  return number.sure ? number : value;
}

type Span = AnswerHeard['spans'][number];

function covers(one: Span, other: Span): boolean {
  return one.start <= other.start && one.end >= other.end;
}

/** True where words for this value hold the number: "over the ten. way over. at the top". */
function saysMore(value: string | number, number: Span, reading: Reading, { asked }: Question): boolean {
  return reading.found.some(
    (one) => one.section === 'answers' && one.name === asked && one.detail === String(value) && covers(one, number),
  );
}

/** "No, 94": a bare "no" goes on to a number that answers. */
function saysNoOnly({ spans: [said] }: AnswerHeard, reading: Reading): boolean {
  return (
    said !== undefined && said.end - said.start === 1 && aids('no-number', reading).some((one) => covers(one, said))
  );
}
