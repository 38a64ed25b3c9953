import type { RentalLine, RentalQuery } from '../pages/records.ts';
import type { Handle } from './engine.ts';
import { phonesOf, staysIn, toStay } from './stays.ts';

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
