import type { NumberFound } from './numbers.ts';
import type { Found, Reading } from './reading.ts';
import { FULL_STOP, RUNS_ON } from './tokens.ts';

/** What an amount is and where it ends. */
interface Amount {
  readonly value: number;
  readonly end: number;
  /** true for a part or a set of several: "of the" may follow, which behind a number begins something else */
  readonly loose?: boolean;
}

const MINUTES = 60;
/** "half of the whole day": so many small words may stand between an amount and its unit. */
const MOST_BETWEEN = 3;

/** Dozens and the like: "half a dozen", "two dozen", "una docena", "three quarters". */
export function findMultiples(reading: Reading): NumberFound[] {
  const { multiple } = reading.lexicon.numbers;
  return reading.tokens.flatMap(({ word }, at) => {
    const by = multiple.get(word);
    if (by === undefined) return [];
    const before = amountBefore(at, reading);
    return before === null ? [] : [{ start: before.start, end: at + 1, value: before.value * by, form: 'plain' }];
  });
}

/** The amount whose last word, or an article behind it, stands right before a token: "half (a)" dozen. */
function amountBefore(at: number, reading: Reading): { start: number; value: number } | null {
  const { one } = reading.lexicon.numbers;
  const isOne = one.has(reading.tokens[at - 1]?.word ?? '');
  const number = reading.numbers.find(({ end, form }) => form === 'plain' && (end === at || (isOne && end === at - 1)));
  if (number !== undefined) return { start: number.start, value: number.value };
  return isOne ? { start: at - 1, value: 1 } : null;
}

/**
 * Lengths of time in hours, as long as they reach: "an hour and a quarter", "half the day", "1 hour 30", "a day or two",
 * "45 minutes to an hour".
 */
export function findDurations(reading: Reading): NumberFound[] {
  const units = reading.found.filter(({ section, detail }) => section === 'answers' && detail.startsWith(TIME_UNIT));
  if (units.length === 0) return [];
  const multiples = findMultiples(reading);
  const found: NumberFound[] = [];
  for (let at = 0; at < reading.tokens.length; at += 1) {
    const duration = durationAt(at, { reading, units, multiples });
    if (duration === null) continue;
    found.push({ start: at, end: duration.end, value: Math.round(duration.value * 100) / 100, form: 'plain' });
    at = duration.end - 1;
  }
  return found;
}

const TIME_UNIT = 'time-unit-';

interface Times {
  readonly reading: Reading;
  readonly units: readonly Found[];
  readonly multiples: readonly NumberFound[];
}

function durationAt(start: number, times: Times): Amount | null {
  const first = oneDuration(start, times);
  if (first === null) return null;
  const { reading } = times;
  const { range, and } = reading.lexicon.numbers;
  const joint = reading.tokens[first.end]?.word ?? '';
  if (!range.has(joint) || and.has(joint)) return first;
  const second = oneDuration(first.end + 1, times);
  if (second !== null && second.value > first.value) return { value: midway(first, second), end: second.end };
  // "an hour or two": the unit is said once.
  const number = reading.numbers.find((one) => one.start === first.end + 1 && one.form === 'plain');
  if (number === undefined || number.value * first.unit <= first.value) return first;
  return { value: midway(first, { value: number.value * first.unit }), end: number.end };
}

function midway(one: { value: number }, other: { value: number }): number {
  return (one.value + other.value) / 2;
}

/** An amount with its unit, and what is said of the same length behind it: "two days and three hours", "hour and a half". */
function oneDuration(start: number, times: Times): (Amount & { unit: number }) | null {
  const { reading } = times;
  const amount = amountAt(start, times);
  const unit = unitAt(amount ?? { value: 1, end: start }, times);
  if (unit === null) return null;
  const { whole } = reading.lexicon.numbers;
  let end = unit.end;
  while (whole.has(reading.tokens[end]?.word ?? '')) end += 1;
  const more = moreAt(end, unit.hours, times);
  // "hours" alone is no amount; "hour and a half" is one.
  if (amount === null && more === null) return null;
  const value = (amount?.value ?? 1) * unit.hours + (more?.value ?? 0);
  return { value, end: more?.end ?? end, unit: unit.hours };
}

function amountAt(start: number, { reading, multiples }: Times): Amount | null {
  const { few, one } = reading.lexicon.numbers;
  const multiple = multiples.find((found) => found.start === start);
  if (multiple !== undefined) return { ...multiple, loose: true };
  const word = reading.tokens[start]?.word ?? '';
  const behind = one.has(word) ? few.get(reading.tokens[start + 1]?.word ?? '') : undefined;
  if (behind !== undefined) return { value: behind, end: start + 2, loose: true };
  const number = reading.numbers.find((found) => found.start === start && found.form !== 'clock');
  if (number !== undefined) return { ...number, loose: number.value < 1 };
  const some = few.get(word);
  if (some !== undefined) return { value: some, end: start + 1, loose: true };
  return one.has(word) ? { value: 1, end: start + 1 } : null;
}

/** The unit right behind an amount, or behind "whole" and, after a part of one, "of the" and the like. */
function unitAt(amount: Amount, { reading, units }: Times): { hours: number; end: number } | null {
  const { one, whole, of } = reading.lexicon.numbers;
  for (let at = amount.end; at <= amount.end + MOST_BETWEEN; at += 1) {
    const token = reading.tokens[at];
    if (token === undefined || token.before > RUNS_ON) return null;
    const unit = units.find((found) => found.start === at);
    if (unit !== undefined) return { hours: Number(unit.detail.slice(TIME_UNIT.length)), end: unit.end };
    const isSmall = whole.has(token.word) || (amount.loose === true && (one.has(token.word) || of.has(token.word)));
    if (!isSmall) return null;
  }
  return null;
}

/** What follows a unit and adds to it, in hours: "and a half", "and ten minutes", "(and) thirty". */
function moreAt(start: number, unit: number, times: Times): Amount | null {
  const { reading } = times;
  const { and, part, one } = reading.lexicon.numbers;
  if ((reading.tokens[start]?.before ?? FULL_STOP) === FULL_STOP) return null;
  const joined = and.has(reading.tokens[start]?.word ?? '');
  const at = joined ? start + 1 : start;
  const next = amountAt(at, times);
  const nextUnit = next === null ? null : unitAt(next, times);
  if (next !== null && nextUnit !== null) {
    return nextUnit.hours < unit ? { value: next.value * nextUnit.hours, end: nextUnit.end } : null;
  }
  const isPart = one.has(reading.tokens[at]?.word ?? '') ? at + 1 : at;
  const share = part.get(reading.tokens[isPart]?.word ?? '');
  if (joined && share !== undefined) return { value: share * unit, end: isPart + 1 };
  const minutes = reading.numbers.find((found) => found.start === at && found.form === 'plain');
  const fits = unit === 1 && minutes !== undefined && Number.isInteger(minutes.value) && minutes.value < MINUTES;
  if (!fits || (reading.tokens[start]?.before ?? RUNS_ON) > RUNS_ON || minutes.value < 5) return null;
  return { value: minutes.value / MINUTES, end: minutes.end };
}

/** Digits said one by one, as a screen is read out: "9 3", "nine one", "1 0 0". */
export function findSpokenDigits(reading: Reading): NumberFound[] {
  const { numbers, tokens } = reading;
  const found: NumberFound[] = [];
  for (let at = 0; at < numbers.length; at += 1) {
    const first = numbers[at];
    let last = first;
    let value = first?.value ?? 0;
    let digits = 1;
    for (let next = numbers[at + digits]; isDigit(last) && isDigit(next); next = numbers[at + digits]) {
      if (next.start !== last.end || tokens[next.start]?.before !== RUNS_ON) break;
      value = value * 10 + next.value;
      last = next;
      digits += 1;
    }
    if (digits === 1 || first === undefined || last === undefined) continue;
    found.push({ start: first.start, end: last.end, value, form: 'plain' });
    at += digits - 1;
  }
  return found;
}

function isDigit(number: NumberFound | undefined): number is NumberFound {
  return number !== undefined && number.end - number.start === 1 && Number.isInteger(number.value) && number.value < 10;
}
