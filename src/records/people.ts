import type { Person, Roster } from '../roster/on-call.ts';
import type { Handle } from './engine.ts';
import { RecordsError } from './errors.ts';

/**
 * The roster with its people and shifts.
 * @throws RecordsError when none was ever entered.
 */
export async function roster({ db }: Handle): Promise<Roster> {
  const kept = await db.selectFrom('roster').select('zone').executeTakeFirst();
  if (!kept) throw new RecordsError('Records: there is no roster. Load a scenario, or enter who is on call.');
  const people = await db.selectFrom('people').selectAll().orderBy('id').execute();
  const shifts = await db.selectFrom('shifts').selectAll().orderBy('position').orderBy('id').execute();
  return {
    zone: kept.zone,
    people,
    shifts: shifts.map((shift) => ({
      personId: shift.person_id,
      days: JSON.parse(shift.days_json) as number[],
      from: shift.from_time,
      to: shift.to_time,
      position: shift.position,
    })),
  };
}

/** The technician or owner with a phone; null for anyone else. */
export async function personByPhone({ db }: Handle, phone: string): Promise<Person | null> {
  return (await db.selectFrom('people').selectAll().where('phone', '=', phone).executeTakeFirst()) ?? null;
}
