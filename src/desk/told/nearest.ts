import { closest } from 'fastest-levenshtein';

/** More names than this would bury the one that was meant. */
const MOST_NAMED = 8;

/** That nothing has this name, with what was perhaps meant. */
export function nearest(name: string, names: readonly string[], what: string): string {
  if (names.length === 0) return `"${name}" came, and there is no ${what} yet; import them first or together`;
  const near = closest(name, names);
  const allowed = names.length <= MOST_NAMED ? names.join(', ') : `one of ${names.length} on record, perhaps "${near}"`;
  return `"${name}" came; allowed: ${allowed}, the name of a ${what}`;
}
