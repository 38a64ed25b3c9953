import { findDurations, findMultiples, findSpokenDigits } from './amounts.ts';
import { hoursSince } from './clock.ts';
import { overlaps } from './context.ts';
import { countsSomething } from './counts-something.ts';
import { findHeadCounts } from './head-count.ts';
import type { AnswerKind } from './heard.ts';
import type { NumberFound } from './numbers.ts';
import type { AnswerHeard, Question } from './question.ts';
import type { Found, Reading } from './reading.ts';
import { aids, correctionsIn, takenBackBefore, takenBackBetween } from './taken-back.ts';
import { PAUSE, RUNS_ON } from './tokens.ts';

/** Percent. Where a text has a number from here on, its digits were not said one by one. */
const LOWEST_SATURATION = 40;

/** What a number of each kind may be; anything else is a number of something else. */
const RANGES: Partial<Record<AnswerKind, { readonly from: number; readonly to: number }>> = {
  ball: { from: 0, to: 15 },
  'flow-told': { from: 0, to: 15 },
  people: { from: 1, to: 12 },
  saturation: { from: LOWEST_SATURATION, to: 100 },
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

/** A number that answers. */
export interface NumberHeard extends AnswerHeard {
  /** true where the kind's words stand beside it */
  readonly sure: boolean;
  /** how often something was taken back before it was said */
  readonly corrected: number;
  /** true where it is more than one number of the text: "half a dozen", "me plus one" */
  readonly composed: boolean;
  /** the number, and the one that would answer if no bare word took it back ("was 84, now 87"): danger goes by both */
  readonly readings: readonly NumberFound[];
}

interface Candidate {
  readonly number: NumberFound;
  readonly value: number;
  readonly score: number;
  /** the score without what bare words do to it */
  readonly firm: number;
  readonly sure: boolean;
  readonly corrected: number;
  readonly composed: boolean;
}

/**
 * The number that answers: of the numbers in range, the one with the kind's own words nearest, none that is named as
 * something else (a room, feet, an age), a corrected one before the slip it corrects, what is now before what was.
 */
export function hearNumber(reading: Reading, question: Question): NumberHeard | null {
  const range = RANGES[question.asked];
  if (range === undefined) return null;
  const composed = composedFor(question.asked, reading).filter((number) => countsSomething(number, reading));
  const single = [...reading.numbers, ...middays(question.asked, reading)].filter(
    (number) => !composed.some((one) => overlaps(one, number)) && countsSomething(number, reading),
  );
  const said = [...single, ...composed];
  const corrections = correctionsIn(reading);
  const [outright] = reading.sets.get('correction') ?? [];
  const slips = takenBackBetween(reading.numbers, reading);
  const candidates: Candidate[] = [];
  for (const number of said.length === 0 ? slipAlone(reading) : said) {
    const isComposed = composed.includes(number) && question.asked !== 'saturation';
    const value = isComposed ? number.value : valueOf(number, question, reading);
    if (value === null || value < range.from || value > range.to) continue;
    if (question.asked === 'people' && !Number.isInteger(value)) continue;
    const own = isComposed ? 0 : gapTo(`cue-${question.asked}`, number, reading);
    const other = isComposed
      ? Infinity
      : Math.min(...othersFor(question.asked).map((set) => gapTo(set, number, reading)));
    let score = (own <= 6 ? 6 - own : 0) - (other <= 1 && other < own ? 6 : other < own && other <= 3 ? 2 : 0);
    if (reading.found.some((one) => one.name === 'past' && Math.abs(one.end - number.start) < 3)) score -= 1;
    const taken = takenBackBefore(number, corrections) + slips.filter((start) => start <= number.start).length;
    const firm = score + (outright !== undefined && number.start >= outright.end ? CORRECTED : 0);
    score += taken * CORRECTED + presentness(number, reading) - (isDenied(number, said, reading) ? DENIED : 0);
    candidates.push({ number, value, score, firm, sure: own <= 3, corrected: taken, composed: isComposed });
  }
  const best = mostOf(candidates, ({ score }) => score);
  if (best === null || best.score < LEAST) return null;
  const { number, value, sure, corrected, composed: isComposed } = best;
  const readings = [...new Set([number, mostOf(candidates, ({ firm }) => firm)?.number ?? number])];
  return { answer: value, spans: [number], sure, corrected, composed: isComposed, readings };
}

/** The first of those with the most. */
function mostOf(candidates: readonly Candidate[], weigh: (one: Candidate) => number): Candidate | null {
  return candidates.reduce<Candidate | null>(
    (most, one) => (most === null || weigh(one) > weigh(most) ? one : most),
    null,
  );
}

/** What a correction, a denial ("not 5, 6") and the words for now and then weigh against the words around a number. */
const CORRECTED = 8;
const DENIED = 8;
const NOW_OR_THEN = 3;
/** Numbers with less are numbers of something else. */
const LEAST = -4;

/** Amounts made of several words, for the kinds that are said so. */
function composedFor(asked: AnswerKind, reading: Reading): NumberFound[] {
  switch (asked) {
    case 'hours':
      return findDurations(reading).filter(({ start, end }) => {
        // "since noon" is a clock time; "half a day" is twelve hours, in Spanish with the words for noon.
        const isSince = reading.found.some((one) => one.name === 'since' && one.end === start);
        const isTime = reading.found.some(({ name, ...one }) => isMidday(name) && one.start >= start && one.end <= end);
        return !(isSince && isTime);
      });
    case 'people':
      return [...findHeadCounts(reading), ...findMultiples(reading)];
    case 'saturation':
      return reading.numbers.some(({ value }) => value >= LOWEST_SATURATION) ? [] : findSpokenDigits(reading);
    default:
      return [];
  }
}

/** "for", "tow": a text that is only what dictation made of a number. */
function slipAlone({ tokens, lexicon }: Reading): NumberFound[] {
  const last = tokens.at(-1);
  const value = lexicon.numbers.alone.get(last?.word ?? '');
  if (value === undefined || tokens.length > MOST_AROUND_A_SLIP + 1) return [];
  const isRest = tokens.slice(0, -1).every(({ word }) => lexicon.numbers.around.has(word));
  return isRest ? [{ start: tokens.length - 1, end: tokens.length, value, form: 'plain' }] : [];
}

const MOST_AROUND_A_SLIP = 3;

/** "It was 84 before, now 87", "8 on the dot": what is said of now stands out, what is said of then stands back. */
function presentness(number: NumberFound, reading: Reading): number {
  const before = (name: string): boolean => aids(name, reading).some((one) => one.end === number.start);
  const behind = (name: string): boolean =>
    aids(name, reading).some((one) => one.start === number.end && closesClause(one, reading));
  if (before('now') || behind('now-behind')) return NOW_OR_THEN;
  return before('then') || behind('then-behind') ? -NOW_OR_THEN : 0;
}

/** True of the "now" in "87 now"; that of "84, now 87" belongs to what follows. */
function closesClause({ start, end }: Found, { tokens }: Reading): boolean {
  return tokens[start]?.before === RUNS_ON && (tokens[end]?.before ?? PAUSE) >= PAUSE;
}

/** "Not 5, 6"; a "no" before a number denies it only where another follows and none went before. */
function isDenied(number: NumberFound, said: readonly NumberFound[], reading: Reading): boolean {
  if (aids('not-number', reading).some((one) => one.end === number.start)) return true;
  const no = aids('no-number', reading).some((one) => one.end === number.start);
  return no && said.every(({ start }) => start >= number.start) && said.some(({ start }) => start > number.start);
}

function valueOf(number: NumberFound, question: Question, reading: Reading): number | null {
  return question.asked === 'hours' ? hoursOf(number, reading, question.now) : inUnit(number, question, reading);
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
    if (!isMidday(one.name)) return [];
    const hour = one.name === 'midnight' ? 0 : 12;
    return [{ start: one.start, end: one.end, value: hour, form: 'clock' as const, clock: { hour, minute: 0 } }];
  });
}

function isMidday(name: string): boolean {
  return name === 'midnight' || name === 'noon';
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
