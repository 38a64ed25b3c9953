import { expect } from 'vitest';
import { tellByForm } from '../../src/desk/told/form.ts';
import { dayIn, daysLater } from '../../src/time/calendar.ts';
import type { NightDesk } from './night-desk.ts';

/** A room by the names that the demo gives, and the unit that stands there. */
export interface Place {
  readonly property: string;
  readonly room: string;
  readonly unit: string;
}

/** Someone with this phone moves in today, for some days. */
export async function moveIn(desk: NightDesk, phone: string, place: Place, days = 1): Promise<void> {
  const today = dayIn('America/Denver', desk.now());
  const cells = {
    guest: 'Someone New',
    phones: phone,
    ...place,
    first_day: today,
    last_day: daysLater(today, days),
  };
  const { faults } = await tellByForm(desk.pages.told, { table: 'rentals', about: { what: 'new' }, cells });
  expect(faults).toEqual([]);
}
