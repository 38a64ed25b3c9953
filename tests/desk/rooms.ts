import { expect } from 'vitest';
import { dayIn, daysLater } from '../../src/time/calendar.ts';
import type { NightDesk } from './night-desk.ts';

/** A room by the names that the demo gives, and the unit that stands there. */
export interface Place {
  readonly property: string;
  readonly room: string;
  readonly unit: string;
}

/** Someone with this phone moves in today, for some days. */
export async function moveIn(desk: NightDesk, phone: string, place: Place, days = 5): Promise<void> {
  const { properties, units } = await desk.pages.records.places();
  const today = dayIn('America/Denver', desk.now());
  await desk.pages.records.addRental({
    guestName: 'Someone New',
    phones: [phone],
    propertyId: properties.find(({ name }) => name === place.property)?.id ?? expect.fail(`no ${place.property}`),
    room: place.room,
    unitId: units.find(({ tag }) => tag === place.unit)?.id ?? expect.fail(`no ${place.unit}`),
    firstDay: today,
    lastDay: daysLater(today, days),
    people: 1,
    fragile: false,
  });
}
