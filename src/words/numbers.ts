import type { Token } from './tokens.ts';

/** Number words of one language, from its words file. */
export interface NumberWords {
  /** "five" 5, "twenty" 20, "hundred" 100 */
  readonly count: ReadonlyMap<string, number>;
  /** how dictation writes some of them before a part: "to and a half" is two and a half */
  readonly slip: ReadonlyMap<string, number>;
  /** "half" 0.5, "quarter" 0.25: parts of one, alone or after "and" */
  readonly part: ReadonlyMap<string, number>;
  readonly and: ReadonlySet<string>;
  readonly point: ReadonlySet<string>;
  /** between the ends of a range: "to", "or" */
  readonly range: ReadonlySet<string>;
  readonly article: ReadonlySet<string>;
  /** "a", "an": one of what follows, where lengths of time and dozens are read */
  readonly one: ReadonlySet<string>;
  /** "couple" 2, "several" 3: about so many, before a unit of time */
  readonly few: ReadonlyMap<string, number>;
  /** "dozen" 12, "quarters" 0.25: so many times the number before it */
  readonly multiple: ReadonlyMap<string, number>;
  /** "whole", "full": may stand between a number and its unit of time, or behind the unit */
  readonly whole: ReadonlySet<string>;
  /** "of", "the": may stand between a part or several and the unit of time */
  readonly of: ReadonlySet<string>;
  /** "plus": adds people, bare numbers too */
  readonly plus: ReadonlySet<string>;
  /** "parents" 2: how many people a word says by itself; 0 for a plural that does not look like one ("children") */
  readonly persons: ReadonlyMap<string, number>;
  /** "for" 4, "ate" 8: how dictation writes a number that is all that was said */
  readonly alone: ReadonlyMap<string, number>;
  /** "at", "its": may stand before such a slip */
  readonly around: ReadonlySet<string>;
}

/** A number in a text: tokens `start` up to, not including, `end`. A range is its midpoint. */
export interface NumberFound {
  readonly start: number;
  readonly end: number;
  readonly value: number;
  readonly form: 'plain' | 'range' | 'clock';
  /** for a clock time: hour and minute as written, 0 to 23 and 0 to 59 */
  readonly clock?: { readonly hour: number; readonly minute: number };
}

const SIGNS_FOR_PARTS: Readonly<Record<string, number>> = { '½': 0.5, '¼': 0.25, '¾': 0.75, '⅓': 1 / 3, '⅔': 2 / 3 };
/** Ranges further apart than this are two numbers: "2 to 3" is one setting, "room 2 or 305" is not. */
const WIDEST_RANGE = 30;

/** Finds the numbers of a text, from left to right, each as long as it reaches. */
export function findNumbers(tokens: readonly Token[], words: NumberWords): NumberFound[] {
  const found: NumberFound[] = [];
  let at = 0;
  while (at < tokens.length) {
    const first = oneNumber(tokens, at, words);
    if (first === null) {
      at += 1;
      continue;
    }
    const range = first.form === 'plain' ? (withRange(tokens, first, words) ?? between(tokens, first, words)) : null;
    const whole = range ?? first;
    found.push(whole);
    at = whole.end;
  }
  return found;
}

function withRange(tokens: readonly Token[], first: NumberFound, words: NumberWords): NumberFound | null {
  const between = tokens[first.end];
  if (between === undefined || !words.range.has(between.word)) return null;
  const second = oneNumber(tokens, first.end + 1, words);
  if (second === null || second.form !== 'plain') return null;
  const apart = second.value - first.value;
  if (apart <= 0 || apart > WIDEST_RANGE) return null;
  return { start: first.start, end: second.end, value: (first.value + second.value) / 2, form: 'range' };
}

/** Words that open a range whose ends stand apart: "between the 2 and the 3 line", "entre la rayita del 2 y la del 3". */
const BETWEEN = new Set(['between', 'entre', 'btwn', 'betwen']);
/** How far before the first end the opening word may stand, and how far behind it the second end. */
const REACH_BEFORE = 4;
const REACH_BEHIND = 5;

function between(tokens: readonly Token[], first: NumberFound, words: NumberWords): NumberFound | null {
  const opened = tokens
    .slice(Math.max(0, first.start - REACH_BEFORE), first.start)
    .some(({ word }) => BETWEEN.has(word));
  if (!opened) return null;
  let joined = false;
  for (let at = first.end; at < Math.min(tokens.length, first.end + REACH_BEHIND); at += 1) {
    const second = joined ? oneNumber(tokens, at, words) : null;
    if (second?.form === 'plain') {
      const apart = second.value - first.value;
      if (apart <= 0 || apart > WIDEST_RANGE) return null;
      return { start: first.start, end: second.end, value: (first.value + second.value) / 2, form: 'range' };
    }
    if (words.and.has(tokens[at]?.word ?? '') || words.range.has(tokens[at]?.word ?? '')) joined = true;
  }
  return null;
}

function oneNumber(tokens: readonly Token[], start: number, words: NumberWords): NumberFound | null {
  const first = tokens[start];
  if (first === undefined) return null;
  const written = /^\d/.test(first.word) ? writtenNumber(first.word) : null;
  if (written?.form === 'range' || written?.form === 'clock') return { ...written, start, end: start + 1 };
  if (written === null && /^\d/.test(first.word)) return null;
  const slip = written === null ? slippedNumber(tokens, start, words) : null;
  if (slip !== null) return slip;
  const base = written === null ? spelledNumber(tokens, start, words) : { value: written.value, end: start + 1 };
  if (base === null) {
    const part = partAt(tokens, start, words);
    return part === null ? null : { start, end: part.end, value: part.value, form: 'plain' };
  }
  return { start, ...withPart(tokens, base, words), form: 'plain' };
}

/** "to and a half": a word that only sounds like a number is one where a part of one follows. */
function slippedNumber(tokens: readonly Token[], start: number, words: NumberWords): NumberFound | null {
  const value = words.slip.get(tokens[start]?.word ?? '');
  if (value === undefined || !words.and.has(tokens[start + 1]?.word ?? '')) return null;
  const part = partAt(tokens, start + 2, words);
  return part === null ? null : { start, end: part.end, value: value + part.value, form: 'plain' };
}

/** "five", "twenty five", "eighty-eight", "two hundred and six" */
function spelledNumber(
  tokens: readonly Token[],
  start: number,
  words: NumberWords,
): { value: number; end: number } | null {
  let total = 0;
  let last = Infinity;
  let end = start;
  for (let at = start; at < tokens.length; at += 1) {
    const word = tokens[at]?.word ?? '';
    const value = words.count.get(word);
    if (value === undefined) {
      const joins = end > start && words.and.has(word) && last >= 20;
      const next = words.count.get(tokens[at + 1]?.word ?? '');
      if (joins && next !== undefined && next < 10) continue;
      break;
    }
    if (value >= 100 && end > start) total *= value;
    else if (end === start || (value < 10 && last >= 20) || last >= 100) total += value;
    else break;
    last = value;
    end = at + 1;
  }
  return end === start ? null : { value: total, end };
}

/** What follows a whole number and belongs to it: "and a half", "point five", "1/2". */
function withPart(
  tokens: readonly Token[],
  base: { value: number; end: number },
  words: NumberWords,
): { value: number; end: number } {
  const next = tokens[base.end];
  if (next === undefined || next.before === 2) return base;
  if (words.and.has(next.word)) {
    const part = partAt(tokens, base.end + 1, words);
    return part === null ? base : { value: base.value + part.value, end: part.end };
  }
  if (words.point.has(next.word)) {
    const digits = oneNumber(tokens, base.end + 1, words);
    if (digits !== null && digits.value < 10 && Number.isInteger(digits.value)) {
      return { value: base.value + digits.value / 10, end: digits.end };
    }
    const part = partAt(tokens, base.end + 1, words);
    return part === null ? base : { value: base.value + part.value, end: part.end };
  }
  const part = partAt(tokens, base.end, words, true);
  return part === null ? base : { value: base.value + part.value, end: part.end };
}

function partAt(
  tokens: readonly Token[],
  start: number,
  words: NumberWords,
  signsOnly = false,
): { value: number; end: number } | null {
  let at = start;
  if (!signsOnly && words.article.has(tokens[at]?.word ?? '')) at += 1;
  const word = tokens[at]?.word ?? '';
  const fraction = /^(\d)\/(\d)$/.exec(word);
  if (fraction !== null) {
    const [over, under] = [Number(fraction[1]), Number(fraction[2])];
    return over < under ? { value: over / under, end: at + 1 } : null;
  }
  const value = SIGNS_FOR_PARTS[word] ?? (signsOnly ? undefined : words.part.get(word));
  return value === undefined ? null : { value, end: at + 1 };
}

type Written = Pick<NumberFound, 'value' | 'form' | 'clock'>;

/** A number written with digits: "4", "4.5", "4,5", "1,200", "3-4", "10:30". null for anything else, such as a phone number. */
function writtenNumber(word: string): Written | null {
  if (/^\d{1,6}$/.test(word)) return { value: Number(word), form: 'plain' };
  const decimal = /^(\d{1,4})[.,](\d{1,2})$/.exec(word);
  if (decimal !== null) return { value: Number(`${decimal[1]}.${decimal[2]}`), form: 'plain' };
  if (/^\d{1,3}([.,])\d{3}$/.test(word)) return { value: Number(word.replace(/[.,]/, '')), form: 'plain' };
  const clock = /^(\d{1,2}):(\d{2})$/.exec(word);
  if (clock !== null) {
    const [hour, minute] = [Number(clock[1]), Number(clock[2])];
    return hour < 24 && minute < 60 ? { value: hour + minute / 60, form: 'clock', clock: { hour, minute } } : null;
  }
  const range = /^(\d{1,3}(?:[.,]\d)?)-(\d{1,3}(?:[.,]\d)?)$/.exec(word);
  if (range !== null) {
    const [low, high] = [range[1], range[2]].map((end) => Number((end ?? '').replace(',', '.'))) as [number, number];
    return high > low && high - low <= WIDEST_RANGE ? { value: (low + high) / 2, form: 'range' } : null;
  }
  const half = /^(\d{1,2})-(\d)\/(\d)$/.exec(word);
  if (half !== null && Number(half[2]) < Number(half[3])) {
    return { value: Number(half[1]) + Number(half[2]) / Number(half[3]), form: 'plain' };
  }
  return null;
}
