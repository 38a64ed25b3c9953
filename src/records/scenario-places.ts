import type { Handle } from './engine.ts';
import type { Scenario } from './scenario-shape.ts';
import { yesNo } from './schema.ts';
import { labelKey } from '../reading/label.ts';

/** Rows by what a scenario calls them. */
export type Ids = ReadonlyMap<string, number>;

/** Inserts the properties or brings them up to the scenario; their ids by name. */
export async function loadProperties({ db }: Handle, scenario: Scenario): Promise<Ids> {
  const ids = new Map<string, number>();
  for (const property of scenario.properties) {
    const columns = {
      name: property.name,
      street_address: property.streetAddress,
      elevation_m: property.elevationM,
      zone: property.zone,
      emergency_number: property.emergencyNumber,
      dispatch_number: property.dispatchNumber,
      front_desk_phone: property.frontDeskPhone,
      entrance: property.entrance,
      text_to_emergency: yesNo(property.textToEmergency),
    };
    const { id } = await db
      .insertInto('properties')
      .values(columns)
      .onConflict((conflict) => conflict.column('name').doUpdateSet(columns))
      .returning('id')
      .executeTakeFirstOrThrow();
    ids.set(property.name, id);
  }
  return ids;
}

/** The same for units and their model sheets; ids of units by `labelKey` of the tag. */
export async function loadUnits({ db }: Handle, scenario: Scenario): Promise<Ids> {
  const sheets = new Map<string, number>();
  for (const sheet of scenario.modelSheets) {
    const columns = {
      name: sheet.name,
      maximum_flow_rate_lpm: sheet.maximumFlowRateLpm,
      rated_elevation_m: sheet.ratedElevationM,
      power_draw_w: sheet.powerDrawW,
    };
    const { id } = await db
      .insertInto('model_sheets')
      .values(columns)
      .onConflict((conflict) => conflict.column('name').doUpdateSet(columns))
      .returning('id')
      .executeTakeFirstOrThrow();
    sheets.set(sheet.name, id);
  }
  const units = new Map<string, number>();
  for (const { tag, modelSheet } of scenario.units) {
    const columns = { tag, tag_key: labelKey(tag), model_sheet_id: known(sheets, modelSheet) };
    const { id } = await db
      .insertInto('units')
      .values(columns)
      .onConflict((conflict) => conflict.column('tag_key').doUpdateSet(columns))
      .returning('id')
      .executeTakeFirstOrThrow();
    units.set(columns.tag_key, id);
  }
  return units;
}

/** The id of a name that the check of the scenario has found in it. */
export function known(ids: Ids, name: string): number {
  const id = ids.get(name);
  if (id === undefined) throw new Error(`"${name}" was checked to be in the scenario and is not; the check is wrong.`);
  return id;
}
