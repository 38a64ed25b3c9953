import type { NewRental, RentalLine, RentalQuery } from '../pages/records.ts';
import type { Handle } from './engine.ts';
import { yesNo } from './schema.ts';
import { phonesOf, staysIn, toStay } from './stays.ts';
import { labelKey } from '../reading/label.ts';

/** Rentals whose last day is not before a day, soonest first. */
export async function rentals(handle: Handle, { from, most }: RentalQuery): Promise<readonly RentalLine[]> {
  const rows = await staysIn(handle)
    .where('rentals.last_day', '>=', from)
    .orderBy('rentals.last_day')
    .orderBy('rentals.id')
    .limit(most)
    .execute();
  const lines: RentalLine[] = [];
  for (const row of rows) lines.push({ stay: toStay(row), phones: await phonesOf(handle, row.rental_id) });
  return lines;
}

/** Enters a rental with its phones. An order is not entered here: it is copied from paper by the owner's own tools. */
export async function addRental({ db }: Handle, rental: NewRental): Promise<void> {
  const { id } = await db
    .insertInto('rentals')
    .values({
      guest_name: rental.guestName,
      property_id: rental.propertyId,
      room: rental.room,
      room_key: labelKey(rental.room),
      unit_id: rental.unitId,
      first_day: rental.firstDay,
      last_day: rental.lastDay,
      people: rental.people,
      fragile: yesNo(rental.fragile),
      age_group: 'adult',
      order_json: null,
      cylinder: yesNo(false),
      oxygen_at_home: yesNo(false),
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  for (const phone of new Set(rental.phones)) {
    await db.insertInto('rental_phones').values({ rental_id: id, phone }).execute();
  }
}

/** Gives a rental another last day, which is never before its first. */
export async function endRental({ db }: Handle, rentalId: number, lastDay: string): Promise<void> {
  await db
    .updateTable('rentals')
    .set({ last_day: lastDay })
    .where('id', '=', rentalId)
    .where('first_day', '<=', lastDay)
    .execute();
}
