import { closest } from 'fastest-levenshtein';

/** More names than this would bury the one that was meant. */
const MOST_NAMED = 8;

/** That nothing has this name, with the names that there are or the one that was perhaps meant. */
export function nearest(name: string, names: readonly string[], what: string): string {
  if (names.length === 0) return `"${name}" came, and there is no ${what} yet; tell them before or together`;
  const these = names.length <= MOST_NAMED ? `, ${names.join(', ')}` : `; the nearest is ${closest(name, names)}`;
  return `"${name}" came; allowed: a ${what} on record or told together with it${these}`;
}
