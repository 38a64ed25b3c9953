import { expect, test } from 'vitest';
import { furnish, recordsIn } from '../../src/commands/trials/outfit.ts';
import { openRecords } from '../../src/records/open.ts';
import { ownFolder } from '../carrier/desk-on-a-port.ts';
import { NIGHT, nightDesk } from './night-desk.ts';

/** More than are planned in one transaction, and not a multiple of it. */
const UNITS = 53;

test('an outfit of many stays is planned for whole, in parts that texts can come between', async () => {
  const folder = await ownFolder();
  await furnish(recordsIn(folder), { units: UNITS, guests: UNITS }, NIGHT);
  const furnished = await openRecords(recordsIn(folder));
  const rentals = (await furnished.read((tx) => tx.staysAround(NIGHT))).map(({ stay }) => stay.rentalId);
  await furnished.close();
  const desk = await nightDesk({ folder });
  await desk.doDue();
  const rows = (kind: string) =>
    desk.records.viewTables(({ db }) =>
      db.selectFrom('work').select(['done_at', 'payload_json']).where('kind', '=', kind).execute(),
    );
  const reminded = (await rows('refill')).map(({ payload_json: json }) => JSON.parse(json) as { rentalId: number });
  const planned = new Set(reminded.map(({ rentalId }) => rentalId));
  expect(rentals.length).toBeGreaterThan(40);
  expect(rentals.filter((rental) => !planned.has(rental))).toEqual([]);
  const done = (await rows('plan')).filter(({ done_at: doneAt }) => doneAt !== null);
  expect(done.length).toBeGreaterThan(1);
  // One look an hour, whatever it takes.
  await desk.pass('PT59M');
  expect((await rows('plan')).filter(({ done_at: doneAt }) => doneAt !== null)).toHaveLength(done.length);
  await desk.pass('PT1M');
  expect((await rows('plan')).filter(({ done_at: doneAt }) => doneAt !== null)).toHaveLength(2 * done.length);
});
