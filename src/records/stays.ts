import { Temporal } from 'temporal-polyfill';
import type { FlowRateLine, Order, Property, SettingSheet, Stay } from '../desk/property.ts';
import type { StayWithPhones } from '../desk/records.ts';
import { instantOfMs, msOf, wallClock } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import { prepared } from './prepared.ts';
import type { Row } from './schema.ts';
import { labelKey } from '../reading/label.ts';

export function toProperty(row: Row<'properties'>): Property {
  return {
    id: row.id,
    name: row.name,
    streetAddress: row.street_address,
    elevationM: row.elevation_m,
    zone: row.zone,
    emergencyNumber: row.emergency_number,
    dispatchNumber: row.dispatch_number,
    frontDeskPhone: row.front_desk_phone,
    entrance: row.entrance,
    textToEmergency: row.text_to_emergency === 1,
  };
}

/** Rentals with their unit, its model sheet and the property; ids and names of those under names of their own. */
export const staysIn = ({ db }: Handle) =>
  db
    .selectFrom('rentals')
    .innerJoin('properties', 'properties.id', 'rentals.property_id')
    .innerJoin('units', 'units.id', 'rentals.unit_id')
    .innerJoin('model_sheets', 'model_sheets.id', 'units.model_sheet_id')
    .selectAll('properties')
    .select([
      'rentals.id as rental_id',
      'rentals.guest_name',
      'rentals.room',
      'rentals.first_day',
      'rentals.last_day',
      'rentals.people',
      'rentals.fragile',
      'rentals.age_group',
      'rentals.order_json',
      'rentals.cylinder',
      'rentals.oxygen_at_home',
      'units.id as unit_id',
      'units.tag',
      'model_sheets.id as model_id',
      'model_sheets.name as model_name',
      'model_sheets.maximum_flow_rate_lpm',
      'model_sheets.rated_elevation_m',
      'model_sheets.power_draw_w',
      'model_sheets.bottle_ml',
    ]);

type StayRow = Awaited<ReturnType<ReturnType<typeof staysIn>['executeTakeFirstOrThrow']>>;

export function toStay(row: StayRow): Stay {
  return {
    rentalId: row.rental_id,
    guestName: row.guest_name,
    property: toProperty(row),
    room: row.room,
    unit: {
      id: row.unit_id,
      tag: row.tag,
      model: {
        id: row.model_id,
        name: row.model_name,
        maximumFlowRateLpm: row.maximum_flow_rate_lpm,
        ratedElevationM: row.rated_elevation_m,
        powerDrawW: row.power_draw_w,
        bottleMl: row.bottle_ml,
      },
    },
    firstDay: row.first_day,
    lastDay: row.last_day,
    people: row.people,
    fragile: row.fragile === 1,
    ageGroup: row.age_group,
    order: row.order_json === null ? null : (JSON.parse(row.order_json) as Order),
    cylinder: row.cylinder === 1,
    oxygenAtHome: row.oxygen_at_home === 1,
  };
}

export interface DaysAround {
  readonly dayBefore: string;
  readonly dayAfter: string;
}

const DAY_MS = 24 * 60 * 60 * 1000;
const dayOf = (ms: number): string => instantOfMs(ms).slice(0, 'yyyy-mm-dd'.length);

/** No zone is a whole day away from UTC. */
export function daysAround(at: Instant): DaysAround {
  const ms = msOf(at);
  return { dayBefore: dayOf(ms - DAY_MS), dayAfter: dayOf(ms + DAY_MS) };
}

export function staysOnDays(handle: Handle, { dayAfter, dayBefore }: DaysAround) {
  return staysIn(handle)
    .where('rentals.first_day', '<=', dayAfter)
    .where('rentals.last_day', '>=', dayBefore)
    .orderBy('rentals.first_day')
    .orderBy('rentals.id');
}

/** Stays that may stand at the instant in some zone. */
const staysNear = (handle: Handle, at: Instant) => staysOnDays(handle, daysAround(at));

/** Whether the instant falls on a day of the stay where the property is. */
export function standsAt(stay: Stay, at: Instant): boolean {
  const day = wallClock(at, stay.property.zone).toPlainDate();
  return Temporal.PlainDate.compare(stay.firstDay, day) <= 0 && Temporal.PlainDate.compare(day, stay.lastDay) <= 0;
}

const staysOfPhone = prepared<DaysAround & { phone: string }>()((handle, { phone, dayAfter, dayBefore }) =>
  staysOnDays(handle, { dayAfter, dayBefore }).where('rentals.id', 'in', (query) =>
    query.selectFrom('rental_phones').select('rental_phones.rental_id').where('rental_phones.phone', '=', phone),
  ),
);

/** Stays of a phone on the local day of the property at that instant. */
export async function staysOf(handle: Handle, phone: string, at: Instant): Promise<readonly Stay[]> {
  const rows = await staysOfPhone(handle, { phone, ...daysAround(at) });
  return rows.map(toStay).filter((stay) => standsAt(stay, at));
}

/** Stays at that instant by the unit's tag, the room's label, or both; none when neither is given. */
export async function staysAt(
  handle: Handle,
  place: { readonly tag?: string; readonly room?: string },
  at: Instant,
): Promise<readonly Stay[]> {
  const { tag, room } = place;
  if (tag === undefined && room === undefined) return [];
  let query = staysNear(handle, at);
  if (tag !== undefined) query = query.where('units.tag_key', '=', labelKey(tag));
  if (room !== undefined) query = query.where('rentals.room_key', '=', labelKey(room));
  const rows = await query.execute();
  return rows.map(toStay).filter((stay) => standsAt(stay, at));
}

/** Stays near the instant with their phones; which of their days it is there is the caller's question. */
export async function staysAround(
  handle: Handle,
  at: Instant,
  part?: { readonly behindRental: number; readonly most: number },
): Promise<readonly StayWithPhones[]> {
  const near = staysNear(handle, at);
  const inPart = ({ behindRental, most }: NonNullable<typeof part>) =>
    near.where('rentals.id', '>', behindRental).clearOrderBy().orderBy('rentals.id').limit(most);
  const rows = await (part === undefined ? near : inPart(part)).execute();
  const around: StayWithPhones[] = [];
  for (const row of rows) around.push({ stay: toStay(row), phones: await phonesOf(handle, row.rental_id) });
  return around;
}

export async function phonesOf({ db }: Handle, rentalId: number): Promise<readonly string[]> {
  const rows = await db
    .selectFrom('rental_phones')
    .select('phone')
    .where('rental_id', '=', rentalId)
    .orderBy('phone')
    .execute();
  return rows.map((row) => row.phone);
}

const stayRow = prepared<{ rentalId: number }>()((handle, { rentalId }) =>
  staysIn(handle).where('rentals.id', '=', rentalId),
);

export async function stay(handle: Handle, rentalId: number): Promise<Stay | null> {
  const [row] = await stayRow(handle, { rentalId });
  return row ? toStay(row) : null;
}

export async function property({ db }: Handle, id: number): Promise<Property | null> {
  const row = await db.selectFrom('properties').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? toProperty(row) : null;
}

const latestSheet = prepared<object>()(({ db }) =>
  db.selectFrom('setting_sheets').selectAll().orderBy('signed_on', 'desc').orderBy('id', 'desc').limit(1),
);

/** The setting sheet signed last; null when there is none. */
export async function settingSheet(handle: Handle): Promise<SettingSheet | null> {
  const [row] = await latestSheet(handle, {});
  return row ? toSettingSheet(row) : null;
}

export function toSettingSheet(row: Row<'setting_sheets'>): SettingSheet {
  return {
    signedBy: row.signed_by,
    signedOn: row.signed_on,
    lines: JSON.parse(row.lines_json) as FlowRateLine[],
  };
}
