import type { AnswerHeard, Question } from './question.ts';
import { ANSWER_KINDS } from './heard.ts';
import type { Reading } from './reading.ts';

/** A reply to a numbered list: "2", "B", "the second one", "option 2", "the last". null when the text is none. */
export function hearChoice(reading: Reading, question: Question): AnswerHeard | null {
  const { choices, asked } = question;
  if (choices === undefined || choices.length === 0) return null;
  const index = ordinal(reading, choices.length) ?? letter(reading) ?? digit(reading, ANSWER_KINDS[asked].number);
  if (index === null) return null;
  const answer = choices[index.at];
  return answer === undefined ? null : { answer, spans: [{ start: index.start, end: index.end }] };
}

interface Index {
  readonly at: number;
  readonly start: number;
  readonly end: number;
}

/** "first", "la segunda", "the last one": words for a place in the list, in a text that says little else. */
function ordinal(reading: Reading, length: number): Index | null {
  for (const found of reading.found) {
    if (found.section !== 'answers' || found.name !== 'any' || !found.detail.startsWith('choice-')) continue;
    if (reading.tokens.length - (found.end - found.start) > 5) continue;
    const place = found.detail.slice('choice-'.length);
    const at = place === 'last' ? length - 1 : Number(place) - 1;
    return { at, start: found.start, end: found.end };
  }
  return null;
}

const BEFORE_A_LETTER = new Set(['the', 'letter', 'option', 'la', 'letra', 'opcion']);

/** "B", "b)", "b please", "la b": one letter that stands alone at the beginning and is no word of its own. */
function letter(reading: Reading): Index | null {
  const start = BEFORE_A_LETTER.has(reading.tokens[0]?.word ?? '') ? 1 : 0;
  const first = reading.tokens[start];
  const second = reading.tokens[start + 1];
  if (first === undefined || !/^[a-f]$/.test(first.word)) return null;
  const alone = second === undefined || second.before > 0 || reading.tokens.length <= 2;
  return alone ? { at: first.word.charCodeAt(0) - 97, start, end: start + 1 } : null;
}

/** A number that is nearly the whole text: "2", "number 2", "la 3", "2 please". */
function digit(reading: Reading, kindIsNumber: boolean): Index | null {
  const [number] = reading.numbers;
  if (number === undefined || reading.numbers.length > 1 || kindIsNumber) return null;
  const others = reading.tokens.length - (number.end - number.start);
  const named = reading.found.some((one) => one.name === 'option-word' && one.end === number.start);
  // "one long tone" is no menu reply: a number in letters is one only by itself.
  const inDigits = /^\d/.test(reading.tokens[number.start]?.word ?? '');
  if (!inDigits && others > 0 && !named) return null;
  if (!Number.isInteger(number.value) || (others > 2 && !named)) return null;
  return { at: number.value - 1, start: number.start, end: number.end };
}
