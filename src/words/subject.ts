import type { Reading } from './reading.ts';
import { FULL_STOP } from './tokens.ts';

/** How far before a find its subject may stand, over words such as "keeps" and "just". */
const FARTHEST = 5;

/**
 * True where the unit, not a person, is said to do or be something: "the machine keeps choking", or "it died" in a text
 * that names the unit and nobody else.
 */
export function isOfTheUnit(find: { start: number; end: number }, reading: Reading): boolean {
  const { found, tokens } = reading;
  const named = (name: string): typeof found => found.filter((one) => one.section === 'words' && one.name === name);
  const things = named('thing');
  const fillers = named('filler');
  const people = named('person');
  const within = (one: { start: number; end: number }): boolean => one.start >= find.start && one.end <= find.end;
  if (people.some(within)) return false;
  if (things.some((thing) => thing.start === find.start && thing.end < find.end)) return true;
  let at = find.start;
  for (let steps = 0; steps < FARTHEST; steps += 1) {
    if (tokens[at]?.before === FULL_STOP) return false;
    if (things.some((thing) => thing.end === at)) return true;
    if (tokens[at - 1]?.word === 'it') return things.length > 0 && people.length === 0;
    const filler = fillers.find((one) => one.end === at);
    if (filler === undefined) return false;
    at = filler.start;
  }
  return false;
}
