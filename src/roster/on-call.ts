import { after } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import type { Person, Roster } from './roster.ts';
import { stretchesBetween } from './stretches.ts';

/** The shortest time there is: a shift that ends at an instant does not cover it. */
const AN_INSTANT = 'PT0.001S';

/**
 * Who is tried at an instant, in order: those on shift by position, then the owners. Nobody twice. A gap in the shifts
 * therefore falls to the owner. Empty only when the roster names no one at all.
 */
export function whoIsOnCall(roster: Roster, instant: Instant): readonly Person[] {
  const onShift = stretchesBetween(roster, instant, after(instant, AN_INSTANT))
    .toSorted((a, b) => a.position - b.position)
    .map((stretch) => roster.people.find((person) => person.id === stretch.personId))
    .filter((person) => person !== undefined);
  const owners = roster.people.filter((person) => person.role === 'owner');
  return [...new Set([...onShift, ...owners])];
}
