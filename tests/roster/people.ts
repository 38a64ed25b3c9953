import type { Person, Roster, Shift } from '../../src/roster/roster.ts';

/** People of the tests of the roster; phones are of those kept for fiction. */
export const ANNA: Person = { id: 1, name: 'Anna Fell', phone: '+19705550121', role: 'technician' };
export const BEN: Person = { id: 2, name: 'Ben Oake', phone: '+19705550122', role: 'technician' };
export const ODA: Person = { id: 3, name: 'Oda Wren', phone: '+19705550123', role: 'owner' };

export const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7] as const;

export function shift(person: Person, days: readonly number[], from: string, to: string, position = 1): Shift {
  return { personId: person.id, days, from, to, position };
}

export function rosterOf(shifts: readonly Shift[], changes: Partial<Roster> = {}): Roster {
  return { zone: 'America/Denver', people: [ANNA, BEN, ODA], shifts, holidays: [], swaps: [], ...changes };
}
