import type { AnswerHeard, Question } from './question.ts';
import { hoursSince } from './clock.ts';
import type { AnswerKind } from './heard.ts';
import type { NumberFound } from './numbers.ts';
import type { Reading } from './reading.ts';

/** What a number of each kind may be; anything else is a number of something else. */
const RANGES: Partial<Record<AnswerKind, { readonly from: number; readonly to: number }>> = {
  ball: { from: 0, to: 15 },
  'flow-told': { from: 0, to: 15 },
  people: { from: 1, to: 12 },
  saturation: { from: 40, to: 100 },
  hours: { from: 0, to: 24 * 14 },
};

/** Sets of words that name what else a number may measure; a kind's own unit is no other. */
const MEASURES: readonly { readonly set: string; readonly of: readonly AnswerKind[] }[] = [
  { set: 'other-measure', of: [] },
  { set: 'measure-flow', of: ['ball', 'flow-told'] },
  { set: 'measure-time', of: ['hours'] },
  { set: 'measure-people', of: ['people'] },
];

function othersFor(asked: AnswerKind): string[] {
  return MEASURES.filter(({ of }) => !of.includes(asked)).map(({ set }) => set);
}

/**
 * The number that answers: of the numbers in range, the one with the kind's own words nearest, none that is named as
 * something else (a room, feet, an age), a corrected one before the slip it corrects.
 * `sure` says that the kind's words stand beside it.
 */
export function hearNumber(reading: Reading, question: Question): (AnswerHeard & { sure: boolean }) | null {
  const range = RANGES[question.asked];
  if (range === undefined) return null;
  const correction = reading.found.find((one) => one.name === 'correction');
  let best: { value: number; score: number; number: NumberFound; sure: boolean } | null = null;
  for (const number of [...reading.numbers, ...middays(question.asked, reading)]) {
    const value =
      question.asked === 'hours' ? hoursOf(number, reading, question.now) : inUnit(number, question, reading);
    if (value === null || value < range.from || value > range.to) continue;
    if (question.asked === 'people' && !Number.isInteger(value)) continue;
    const own = gapTo(`cue-${question.asked}`, number, reading);
    const other = Math.min(...othersFor(question.asked).map((set) => gapTo(set, number, reading)));
    let score = (own <= 6 ? 6 - own : 0) - (other <= 1 && other < own ? 6 : other < own && other <= 3 ? 2 : 0);
    if (reading.found.some((one) => one.name === 'past' && Math.abs(one.end - number.start) < 3)) score -= 1;
    if (correction !== undefined && number.start >= correction.end) score += 8;
    if (best === null || score > best.score) best = { value, score, number, sure: own <= 3 };
  }
  if (best === null || best.score < -4) return null;
  return { answer: best.value, spans: [best.number], sure: best.sure };
}

/** "since ten" and "10:30" count back from now; "40 minutes" and "two days" become hours; other units are none. */
function hoursOf(number: NumberFound, reading: Reading, now: string | undefined): number | null {
  const unit = beside('time-unit', number, reading);
  if (unit !== null) return Math.round(number.value * unit * 100) / 100;
  const since = reading.found.some((one) => one.name === 'since' && one.end === number.start);
  if (!since && number.form !== 'clock') return number.value;
  return hoursSince(number, reading, now);
}

function inUnit(number: NumberFound, question: Question, reading: Reading): number | null {
  if (number.form === 'clock') return null;
  const slightly = reading.found.find((one) => one.name === 'slightly-under' && one.end === number.start);
  return slightly !== undefined && question.asked === 'ball' ? number.value - 0.1 : number.value;
}

/** "since midnight": words for a time of day count as clock times where hours are asked. */
function middays(asked: AnswerKind, reading: Reading): NumberFound[] {
  if (asked !== 'hours') return [];
  return reading.found.flatMap((one) => {
    const hour = one.name === 'midnight' ? 0 : one.name === 'noon' ? 12 : null;
    if (hour === null) return [];
    return [{ start: one.start, end: one.end, value: hour, form: 'clock' as const, clock: { hour, minute: 0 } }];
  });
}

/** Hours in the unit named right after a number; null when none is. */
function beside(set: string, number: NumberFound, reading: Reading): number | null {
  for (const found of reading.found) {
    if (
      found.section === 'answers' &&
      found.name === 'any' &&
      found.detail.startsWith(set) &&
      found.start === number.end
    ) {
      return Number(found.detail.slice(set.length + 1));
    }
  }
  return null;
}

/** Words between a number and the nearest find of a set on either side; Infinity when there is none. */
function gapTo(set: string, number: NumberFound, reading: Reading): number {
  let least = Infinity;
  for (const found of reading.sets.get(set) ?? []) {
    // A number's name mostly stands before it; after it, only right after.
    const before = found.end <= number.start;
    let gap = before ? number.start - found.end : Math.max(0, found.start - number.end) * 2 + 0.5;
    for (const between of reading.numbers) {
      if (before && between.start >= found.end && between.end <= number.start) gap += 3;
      if (!before && between.start >= number.end && between.end <= found.start) gap += 3;
    }
    least = Math.min(least, gap);
  }
  return least;
}
