import { countsSomething } from './counts-something.ts';
import type { AnswerHeard } from './question.ts';
import type { NumberFound } from './numbers.ts';
import type { Reading } from './reading.ts';
import { aids, correctionsIn, takenBackBefore, takenBackBetween } from './taken-back.ts';
import { PAUSE } from './tokens.ts';

/** The worst degree of how bad something is: the question asks for 0 to 3. */
const WORST = 3;
/** Scales people know and use unasked. */
const SCALES = [WORST, 5, 10];

/**
 * How bad it is, as a number: a 0 to 3 that stands free ("a three for sure"; "three aspirins" counts aspirins), or one
 * of a scale ("2 out of 3", "8 out of 10"), brought to 0 to 3 and never rounded down. What was taken back gives way.
 */
export function hearDegree(reading: Reading): AnswerHeard | null {
  const corrections = correctionsIn(reading);
  const slips = takenBackBetween(reading.numbers, reading);
  let best: { degree: number; spans: AnswerHeard['spans']; corrected: number } | null = null;
  const numbered = reading.numbers.map((number) => onScale(number, reading) ?? free(number, reading));
  for (const heard of [...written(reading), ...numbered]) {
    const [span] = heard?.spans ?? [];
    if (heard === null || span === undefined) continue;
    const corrected = takenBackBefore(span, corrections) + slips.filter((at) => at <= span.start).length;
    if (best === null || corrected > best.corrected) best = { ...heard, corrected };
  }
  return best === null ? null : { answer: String(best.degree), spans: best.spans };
}

interface Degree {
  readonly degree: number;
  readonly spans: AnswerHeard['spans'];
}

/** "7/10" */
function written(reading: Reading): Degree[] {
  return reading.tokens.flatMap(({ word }, start) => {
    const [, value, scale] = /^(\d{1,2})\/(\d{1,2})$/.exec(word) ?? [];
    return degreeOf(Number(value), Number(scale), [{ start, end: start + 1 }]) ?? [];
  });
}

/** "2 out of 3", "uno de tres" */
function onScale(number: NumberFound, reading: Reading): Degree | null {
  const link = aids('out-of', reading).find(({ start }) => start === number.end);
  const scale = reading.numbers.find(({ start }) => link !== undefined && start === link.end);
  return scale === undefined ? null : degreeOf(number.value, scale.value, [{ start: number.start, end: scale.end }]);
}

function degreeOf(value: number, scale: number, spans: AnswerHeard['spans']): Degree | null {
  if (!SCALES.includes(scale) || value > scale) return null;
  return { degree: Math.ceil((value / scale) * WORST), spans };
}

/** A number from 0 to 3 with nothing behind it that it could count. Of a range the worse end counts. */
function free(number: NumberFound, reading: Reading): Degree | null {
  if (number.form === 'clock' || number.value > WORST || !countsSomething(number, reading)) return null;
  const next = reading.tokens[number.end];
  const ends = next === undefined || next.before >= PAUSE;
  const goesOn = aids('behind-degree', reading).some(({ start }) => start === number.end);
  if (!ends && !goesOn) return null;
  return { degree: Math.ceil(number.value), spans: [number] };
}
