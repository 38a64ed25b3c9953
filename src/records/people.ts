import type { Person, Roster, Swap } from '../roster/roster.ts';
import type { Handle } from './engine.ts';
import { RecordsError } from './errors.ts';
import { prepared } from './prepared.ts';
import type { Row } from './schema.ts';

const toPerson = ({ id, name, phone, role }: Row<'people'>): Person => ({ id, name, phone, role });

/**
 * The roster with its people, shifts, holidays and swaps. Those who have left are not among the people.
 * @throws RecordsError when none was ever entered.
 */
export async function roster({ db }: Handle): Promise<Roster> {
  const kept = await db.selectFrom('roster').select('zone').executeTakeFirst();
  if (!kept) throw new RecordsError('Records: there is no roster. Load a scenario, or enter who is on call.');
  const people = await db.selectFrom('people').selectAll().where('active', '=', 1).orderBy('id').execute();
  const shifts = await db.selectFrom('shifts').selectAll().orderBy('position').orderBy('id').execute();
  const holidays = await db.selectFrom('holidays').selectAll().orderBy('day').execute();
  const holidayShifts = await db.selectFrom('holiday_shifts').selectAll().orderBy('position').orderBy('id').execute();
  const swaps = await db.selectFrom('swaps').selectAll().orderBy('id').execute();
  const watch = (row: Row<'shifts'> | Row<'holiday_shifts'>) => ({
    personId: row.person_id,
    from: row.from_time,
    to: row.to_time,
    position: row.position,
  });
  return {
    zone: kept.zone,
    people: people.map(toPerson),
    shifts: shifts.map((row) => ({ ...watch(row), days: JSON.parse(row.days_json) as number[] })),
    holidays: holidays.map(({ day, name }) => ({
      day,
      name,
      shifts: holidayShifts.filter((row) => row.day === day).map(watch),
    })),
    swaps: swaps.map((row) => ({ day: row.day, personId: row.person_id, withId: row.with_id })),
  };
}

const personRow = prepared<{ phone: string }>()(({ db }, { phone }) =>
  db.selectFrom('people').selectAll().where('phone', '=', phone).where('active', '=', 1),
);

/** The technician or owner with a phone; null for anyone else, and for those who have left. */
export async function personByPhone(handle: Handle, phone: string): Promise<Person | null> {
  const [row] = await personRow(handle, { phone });
  return row === undefined ? null : toPerson(row);
}

/** One row stands for a night and a pair, whoever of the two is named first. */
const pairOf = ({ day, personId, withId }: Swap) => ({
  day,
  person_id: Math.min(personId, withId),
  with_id: Math.max(personId, withId),
});

/** Two people take each other's place in a night. Entered again it stays one swap. */
export async function addSwap({ db }: Handle, swap: Swap): Promise<void> {
  await db
    .insertInto('swaps')
    .values(pairOf(swap))
    .onConflict((conflict) => conflict.columns(['day', 'person_id', 'with_id']).doNothing())
    .execute();
}

/** Everyone has their own place in that night again. */
export async function dropSwaps({ db }: Handle, day: string): Promise<void> {
  await db.deleteFrom('swaps').where('day', '=', day).execute();
}
