import type { Instant } from '../time/instant.ts';
import { wallClock } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import type { OpenRecords } from './open.ts';
import { readScenario } from './scenario-document.ts';
import type { ScenarioDocument } from './scenario-document.ts';
import type { Scenario } from './scenario-shape.ts';
import { known, loadProperties, loadUnits } from './scenario-places.ts';
import { yesNo } from './schema.ts';
import { labelKey } from '../reading/label.ts';

async function loadRoster({ db }: Handle, scenario: Scenario): Promise<void> {
  const people = new Map<string, number>();
  for (const listed of scenario.people) {
    const person = { ...listed, active: yesNo(true) };
    const { id } = await db
      .insertInto('people')
      .values(person)
      .onConflict((conflict) => conflict.column('phone').doUpdateSet(person))
      .returning('id')
      .executeTakeFirstOrThrow();
    people.set(person.name, id);
  }
  const { zone } = scenario.roster;
  await db
    .insertInto('roster')
    .values({ id: 1, zone })
    .onConflict((conflict) => conflict.column('id').doUpdateSet({ zone }))
    .execute();
  const wanted = scenario.roster.shifts.map((shift) => ({
    person_id: known(people, shift.person),
    days_json: JSON.stringify(shift.days),
    from_time: shift.from,
    to_time: shift.to,
    position: shift.position,
  }));
  const standing = await db
    .selectFrom('shifts')
    .select(['person_id', 'days_json', 'from_time', 'to_time', 'position'])
    .orderBy('id')
    .execute();
  if (JSON.stringify(wanted) === JSON.stringify(standing)) return;
  // Shifts have no name of their own, and half an old week beside half a new one would ring the wrong person.
  await db.deleteFrom('shifts').execute();
  if (wanted.length > 0) await db.insertInto('shifts').values(wanted).execute();
}

async function loadSettingSheet({ db }: Handle, { settingSheet }: Scenario): Promise<void> {
  if (!settingSheet) return;
  const columns = {
    signed_by: settingSheet.signedBy,
    signed_on: settingSheet.signedOn,
    lines_json: JSON.stringify(settingSheet.lines),
  };
  await db
    .insertInto('setting_sheets')
    .values(columns)
    .onConflict((conflict) => conflict.columns(['signed_on', 'signed_by']).doUpdateSet(columns))
    .execute();
}

/**
 * One stay. The same guest with the same unit on days that touch those already kept is the same rental, moved: a
 * scenario that is loaded again on the next day must not leave two of it.
 */
async function loadStay(
  { db }: Handle,
  stay: Scenario['stays'][number],
  ids: { readonly property: number; readonly unit: number },
  days: { readonly first: string; readonly last: string },
): Promise<void> {
  const columns = {
    guest_name: stay.guest,
    property_id: ids.property,
    room: stay.room,
    room_key: labelKey(stay.room),
    unit_id: ids.unit,
    first_day: days.first,
    last_day: days.last,
    people: stay.people,
    fragile: yesNo(stay.fragile),
    age_group: stay.ageGroup,
    order_json: stay.order && JSON.stringify(stay.order),
    cylinder: yesNo(stay.cylinder),
    oxygen_at_home: yesNo(stay.oxygenAtHome),
  };
  const standing = await db
    .selectFrom('rentals')
    .select('id')
    .where('unit_id', '=', ids.unit)
    .where('guest_name', '=', stay.guest)
    .where('first_day', '<=', days.last)
    .where('last_day', '>=', days.first)
    .executeTakeFirst();
  if (standing) await db.updateTable('rentals').set(columns).where('id', '=', standing.id).execute();
  const { id } = standing ?? (await db.insertInto('rentals').values(columns).returning('id').executeTakeFirstOrThrow());
  await db.deleteFrom('rental_phones').where('rental_id', '=', id).where('phone', 'not in', stay.phones).execute();
  await db
    .insertInto('rental_phones')
    .values(stay.phones.map((phone) => ({ rental_id: id, phone })))
    .onConflict((conflict) => conflict.columns(['rental_id', 'phone']).doNothing())
    .execute();
}

/**
 * Loads a scenario in one transaction, all of it or nothing. What is there already under the same name, tag or phone is
 * brought up to the scenario; loading the same again on the same day changes nothing. Days of stays are counted from
 * the day it is at the property at `now`.
 * @throws ScenarioError naming every fault with file, line and column.
 */
export async function loadScenario(records: OpenRecords, document: ScenarioDocument, now: Instant): Promise<void> {
  const scenario = readScenario(document);
  await records.onTables(async (handle) => {
    const properties = await loadProperties(handle, scenario);
    const units = await loadUnits(handle, scenario);
    await loadRoster(handle, scenario);
    await loadSettingSheet(handle, scenario);
    for (const stay of scenario.stays) {
      const zone = scenario.properties.find(({ name }) => name === stay.property)?.zone ?? scenario.roster.zone;
      const today = wallClock(now, zone).toPlainDate();
      await loadStay(
        handle,
        stay,
        { property: known(properties, stay.property), unit: known(units, labelKey(stay.unit)) },
        { first: today.add({ days: stay.fromDay }).toString(), last: today.add({ days: stay.toDay }).toString() },
      );
    }
  });
}
