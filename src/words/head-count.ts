import { aids } from './taken-back.ts';
import type { NumberFound } from './numbers.ts';
import type { Found, Reading } from './reading.ts';
import { FULL_STOP, PAUSE } from './tokens.ts';

/** So many words may stand before a person: "both of my two little" girls. */
const MOST_BEFORE = 4;

interface Group {
  readonly count: number;
  readonly end: number;
  /**
   * named  "my two sons", "me": may stand anywhere in a list
   * left-out  "the other two": needs a word that joins it; "the two, mom and I" says how many are named
   * bare  "one": a person only where it is added: "me plus one"
   */
  readonly form: 'named' | 'left-out' | 'bare';
}

/** What is found of people, by the token where it starts; where several start, the longest. */
interface Heads {
  readonly reading: Reading;
  readonly persons: ReadonlyMap<number, Found>;
  /** "me", "he", "the other": one person in a word */
  readonly lone: ReadonlyMap<number, Found>;
  /** "my", "both of", "little": may stand before a person */
  readonly before: ReadonlyMap<number, Found>;
  readonly numbers: ReadonlyMap<number, NumberFound>;
}

/**
 * People listed by name instead of counted: "mom, dad and us two kids", "me plus one", "yo y mis dos hijos". A list has
 * at least one "and"; "just me, my husband has his own" is none. People of unknown number ("my kids and I") make none.
 */
export function findHeadCounts(reading: Reading): NumberFound[] {
  const heads: Heads = {
    reading,
    persons: byStart([...(reading.sets.get('family') ?? []), ...aids('person', reading)]),
    lone: byStart(aids('one-person', reading)),
    before: byStart(aids('before-person', reading)),
    numbers: byStart(reading.numbers.filter(({ form, value }) => form === 'plain' && Number.isInteger(value))),
  };
  const found: NumberFound[] = [];
  for (let at = 0; at < reading.tokens.length; at += 1) {
    const list = listAt(at, heads);
    if (list === null) continue;
    found.push({ start: at, end: list.end, value: list.count, form: 'plain' });
    at = list.end - 1;
  }
  return found;
}

function listAt(start: number, heads: Heads): Group | null {
  const { tokens, lexicon } = heads.reading;
  const { and, plus } = lexicon.numbers;
  const first = groupAt(start, heads);
  if (first === null) return null;
  let { count, end, form } = first;
  let joined = false;
  for (;;) {
    const token = tokens[end];
    if (token === undefined || token.before === FULL_STOP) break;
    const adds = plus.has(token.word);
    const joins = adds || and.has(token.word);
    const next = groupAt(joins ? end + 1 : end, heads);
    if (next === null || !takes(form, { adds, joins }) || !takes(next.form, { adds, joins })) break;
    if (!joins && joined) break;
    joined ||= joins;
    count += next.count;
    ({ end, form } = { end: next.end, form: 'named' });
  }
  return joined ? { count, end, form } : null;
}

function takes(form: Group['form'], { adds, joins }: { adds: boolean; joins: boolean }): boolean {
  return form === 'named' || adds || (form === 'left-out' && joins);
}

function groupAt(start: number, { reading, persons, lone, before, numbers }: Heads): Group | null {
  let count: number | null = null;
  let at = start;
  let words = 0;
  for (; words <= MOST_BEFORE; words += 1) {
    const person = persons.get(at);
    if (person !== undefined) {
      const many = count ?? countOf(reading.tokens[person.end - 1]?.word ?? '', reading);
      return many === null ? null : { count: many, end: person.end, form: 'named' };
    }
    const number: NumberFound | undefined = count === null ? numbers.get(at) : undefined;
    if (at > start && (reading.tokens[at]?.before ?? PAUSE) >= PAUSE) break;
    count = number?.value ?? count;
    const word: Found | NumberFound | undefined = number ?? before.get(at);
    if (word === undefined) break;
    at = word.end;
  }
  // "the other two": the person is left out.
  if (count !== null && words > 1) return { count, end: at, form: 'left-out' };
  const one = lone.get(start);
  if (one !== undefined) return { count: 1, end: one.end, form: 'named' };
  const number = numbers.get(start);
  return number === undefined ? null : { count: number.value, end: number.end, form: 'bare' };
}

function byStart<T extends { readonly start: number; readonly end: number }>(spans: readonly T[]): Map<number, T> {
  const starts = new Map<number, T>();
  for (const span of spans) if (span.end > (starts.get(span.start)?.end ?? 0)) starts.set(span.start, span);
  return starts;
}

/** One person; two where the word says a pair; null for a plural, of which nobody knows how many. */
function countOf(word: string, { lexicon }: Reading): number | null {
  const known = lexicon.numbers.persons.get(word);
  if (known !== undefined) return known === 0 ? null : known;
  return /[^su]s$/.test(word) ? null : 1;
}
