import type { RosterDraft, WatchDraft } from '../roster/draft.ts';
import type { Handle } from './engine.ts';
import type { OpenRecords } from './open.ts';
import { yesNo } from './schema.ts';

/** Enters the people of the draft by their phones; gives their ids by name. */
async function enterPeople({ db }: Handle, { people }: RosterDraft): Promise<ReadonlyMap<string, number>> {
  const ids = new Map<string, number>();
  for (const { name, phone, role } of people) {
    if (phone === null) throw new Error(`Records: ${name} has no phone; check the roster before it is entered.`);
    const columns = { name, phone, role, active: yesNo(true) };
    const { id } = await db
      .insertInto('people')
      .values(columns)
      .onConflict((conflict) => conflict.column('phone').doUpdateSet(columns))
      .returning('id')
      .executeTakeFirstOrThrow();
    ids.set(name, id);
  }
  return ids;
}

/** Those whom the draft does not name have left; but a draft that names no owner leaves the owners where they are. */
async function retireOthers({ db }: Handle, draft: RosterDraft, staying: readonly number[]): Promise<void> {
  const namesOwner = draft.people.some((person) => person.role === 'owner');
  await db
    .updateTable('people')
    .set({ active: yesNo(false) })
    .$if(staying.length > 0, (query) => query.where('id', 'not in', staying))
    .$if(!namesOwner, (query) => query.where('role', '<>', 'owner'))
    .execute();
  const left = db.selectFrom('people').select('id').where('active', '=', 0);
  await db
    .deleteFrom('swaps')
    .where((row) => row.or([row('person_id', 'in', left), row('with_id', 'in', left)]))
    .execute();
}

/**
 * Puts a checked roster in place of the one that stands, in one transaction. Swaps that were agreed stay, but for those of
 * people who have left.
 */
export async function enterRoster(records: OpenRecords, draft: RosterDraft): Promise<void> {
  await records.onTables(async (handle) => {
    const { db } = handle;
    const ids = await enterPeople(handle, draft);
    const watch = ({ person, from, to, position }: WatchDraft) => {
      const person_id = ids.get(person);
      if (person_id === undefined) throw new Error(`Records: "${person}" is not of this roster; check it first.`);
      return { person_id, from_time: from, to_time: to, position };
    };
    await enterZone(handle, draft.zone);
    await db.deleteFrom('shifts').execute();
    await db.deleteFrom('holiday_shifts').execute();
    await db.deleteFrom('holidays').execute();
    for (const shift of draft.shifts) {
      await db
        .insertInto('shifts')
        .values({ ...watch(shift), days_json: JSON.stringify(shift.days) })
        .execute();
    }
    for (const { day, name, shifts } of draft.holidays) {
      await db.insertInto('holidays').values({ day, name }).execute();
      for (const each of shifts)
        await db
          .insertInto('holiday_shifts')
          .values({ ...watch(each), day })
          .execute();
    }
    await retireOthers(handle, draft, [...ids.values()]);
  });
}

async function enterZone({ db }: Handle, zone: string): Promise<void> {
  await db
    .insertInto('roster')
    .values({ id: 1, zone })
    .onConflict((conflict) => conflict.column('id').doUpdateSet({ zone }))
    .execute();
}

/**
 * Makes sure that a callout has someone to go to: where there is no roster yet, an empty one; where it has no owner, the one
 * with this phone.
 */
export async function ensureOwner(
  records: OpenRecords,
  settings: { readonly ownerPhone: string; readonly outfitZone: string },
): Promise<void> {
  await records.onTables(async (handle) => {
    const { db } = handle;
    const standing = await db.selectFrom('roster').select('zone').executeTakeFirst();
    if (!standing) await enterZone(handle, settings.outfitZone);
    const owner = await db
      .selectFrom('people')
      .select('id')
      .where('role', '=', 'owner')
      .where('active', '=', 1)
      .executeTakeFirst();
    if (owner) return;
    const columns = { role: 'owner', active: yesNo(true) } as const;
    await db
      .insertInto('people')
      .values({ name: 'The owner', phone: settings.ownerPhone, ...columns })
      .onConflict((conflict) => conflict.column('phone').doUpdateSet(columns))
      .execute();
  });
}
