import type { NumberFound } from './numbers.ts';
import type { Found, Reading } from './reading.ts';
import { aids, isAside } from './taken-back.ts';
import { PAUSE } from './tokens.ts';

/** False for numbers that answer nothing: "which one", "in one ear", "tengo un aparato", "five six seconds". */
export function countsSomething(number: NumberFound, reading: Reading): boolean {
  if (isAside(number, reading)) return false;
  if (aids('no-count', reading).some((one) => one.start < number.end && number.start < one.end)) return false;
  const { article, count } = reading.lexicon.numbers;
  const word = reading.tokens[number.start]?.word ?? '';
  if (number.end - number.start > 1 || !article.has(word) || !count.has(word)) return true;
  // A number that is an article too counts by itself ("a la una llegamos") or before its unit.
  const next = reading.tokens[number.end];
  if (next === undefined || next.before >= PAUSE) return true;
  if (aids('definite', reading).some(({ end }) => end === number.start)) return true;
  return reading.found.some((one) => one.start === number.end && isUnit(one));
}

function isUnit({ section, name, detail }: Found): boolean {
  if (section === 'words') return name === 'family' || name.startsWith('measure-');
  return section === 'answers' && name === 'any' && (detail === 'unit' || detail.startsWith('time-unit-'));
}
