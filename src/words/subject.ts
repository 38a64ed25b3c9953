import type { Reading } from './reading.ts';
import { FULL_STOP } from './tokens.ts';

/** How far before a find its subject may stand. */
const FARTHEST = 7;
/** "on the machine", "with the tube in": a thing after one of these does nothing by itself. */
const AFTER: ReadonlySet<string> = new Set(
  'on with in off from under to at by near of without using despite con en sin del al de para por desde'.split(' '),
);

/**
 * True where the unit, not a person, is said to do or be something: "the machine keeps choking", or "it died" in a text
 * that names the unit and nobody else. Looks back from the find, within its clause, for whoever is named first.
 */
export function isOfTheUnit(find: { start: number; end: number }, reading: Reading): boolean {
  const { tokens } = reading;
  const things = reading.sets.get('thing') ?? [];
  if (things.length === 0) return false;
  const people = reading.sets.get('person') ?? [];
  if (people.some((one) => one.start >= find.start && one.end <= find.end)) return false;
  if (things.some((thing) => thing.start === find.start && thing.end < find.end)) return true;
  const ends = reading.contexts.filter(({ name }) => name === 'ends');
  for (let at = find.start; at > find.start - FARTHEST && at >= 0; at -= 1) {
    // What ends the sentence before names nobody in this one.
    if (tokens[at]?.before === FULL_STOP) return false;
    const thing = things.find((one) => one.end === at);
    if (thing !== undefined) return !isBehindPreposition(thing.start, tokens);
    if (people.some((one) => one.end === at)) return false;
    if (tokens[at - 1]?.word === 'it') return people.length === 0;
    if ((tokens[at]?.before ?? 0) > 0 || ends.some((end) => end.end === at)) return false;
  }
  return false;
}

function isBehindPreposition(start: number, tokens: Reading['tokens']): boolean {
  const [near, far] = [tokens[start - 1]?.word ?? '', tokens[start - 2]?.word ?? ''];
  return AFTER.has(near) || AFTER.has(far);
}
