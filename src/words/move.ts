import { standingOf } from './context.ts';
import type { Move } from './heard.ts';
import type { Reading } from './reading.ts';

/** A wish about the conversation itself: a person, a step back, the question again. null when there is none. */
export function hearMove(reading: Reading): Move | null {
  for (const found of reading.found) {
    if (found.section === 'moves' && !standingOf(found, reading).denied) return found.name as Move;
  }
  // "0" alone is how telephone menus taught everyone to ask for a person.
  const [only] = reading.tokens;
  return reading.tokens.length === 1 && only?.word === '0' ? 'person' : null;
}
