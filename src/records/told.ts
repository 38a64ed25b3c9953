import type {
  Known,
  KnownRental,
  ModelEntry,
  PropertyEntry,
  RentalEntry,
  RoomEntry,
  UnitEntry,
  Written,
} from '../desk/told/entries.ts';
import type { RentalsNear, ToldRecords, ToldTx } from '../desk/told/import.ts';
import type { Order } from '../desk/property.ts';
import { labelKey } from '../reading/label.ts';
import type { Handle } from './engine.ts';
import { addKeepingNote } from './keeping-notes.ts';
import type { OpenRecords } from './open.ts';
import { yesNo } from './schema.ts';

/** Ids of the rentals that may have to do with one; each found by an index. */
async function idsNear({ db }: Handle, { rentalId, unit, phones, booking }: RentalsNear): Promise<readonly number[]> {
  const ofUnit = await db
    .selectFrom('units')
    .innerJoin('rentals', 'rentals.unit_id', 'units.id')
    .select('rentals.id')
    .where('tag_key', '=', labelKey(unit))
    .execute();
  const ofPhones =
    phones.length === 0
      ? []
      : await db.selectFrom('rental_phones').select('rental_id as id').where('phone', 'in', phones).execute();
  const ofBooking = await db.selectFrom('rentals').select('id').where('booking', '=', booking).execute();
  const own = rentalId === null ? [] : [{ id: rentalId }];
  return [...new Set([...own, ...ofUnit, ...ofPhones, ...ofBooking].map(({ id }) => id))];
}

async function knownRentals(handle: Handle, near: RentalsNear | undefined): Promise<readonly KnownRental[]> {
  const { db } = handle;
  const ids = near === undefined ? null : await idsNear(handle, near);
  if (ids?.length === 0) return [];
  const phones = Map.groupBy(
    await db
      .selectFrom('rental_phones')
      .selectAll()
      .$if(ids !== null, (query) => query.where('rental_id', 'in', ids ?? []))
      .orderBy('phone')
      .execute(),
    ({ rental_id }) => rental_id,
  );
  const conversations = await db
    .selectFrom('conversations')
    .select('rental_id')
    .distinct()
    .$if(ids !== null, (query) => query.where('rental_id', 'in', ids ?? []))
    .execute();
  const spoken = new Set(conversations.map(({ rental_id }) => rental_id));
  const rows = await db
    .selectFrom('rentals')
    .innerJoin('properties', 'properties.id', 'rentals.property_id')
    .innerJoin('units', 'units.id', 'rentals.unit_id')
    .selectAll('rentals')
    .select(['properties.name as property_name', 'units.tag'])
    .$if(ids !== null, (query) => query.where('rentals.id', 'in', ids ?? []))
    .orderBy('rentals.id')
    .execute();
  return rows.map((row) => ({
    rentalId: row.id,
    rental: row.booking,
    guest: row.guest_name,
    phones: (phones.get(row.id) ?? []).map(({ phone }) => phone),
    property: row.property_name,
    room: row.room,
    unit: row.tag,
    firstDay: row.first_day,
    lastDay: row.last_day,
    people: row.people,
    fragile: row.fragile === 1,
    ageGroup: row.age_group,
    cylinder: row.cylinder === 1,
    oxygenAtHome: row.oxygen_at_home === 1,
    order: row.order_json === null ? null : (JSON.parse(row.order_json) as Order),
    hasConversations: spoken.has(row.id),
  }));
}

async function known(handle: Handle, near?: RentalsNear): Promise<Known> {
  const { db } = handle;
  const models = await db.selectFrom('model_sheets').selectAll().orderBy('id').execute();
  const properties = await db.selectFrom('properties').selectAll().orderBy('id').execute();
  const rooms = await db
    .selectFrom('rooms')
    .innerJoin('properties', 'properties.id', 'rooms.property_id')
    .select(['properties.name', 'rooms.room', 'rooms.phone', 'rooms.way_in'])
    .orderBy('rooms.id')
    .execute();
  const units = await db
    .selectFrom('units')
    .innerJoin('model_sheets', 'model_sheets.id', 'units.model_sheet_id')
    .select(['units.tag', 'model_sheets.name'])
    .orderBy('units.id')
    .execute();
  const people = await db.selectFrom('people').selectAll().where('active', '=', 1).orderBy('id').execute();
  return {
    models: models.map((row) => ({
      model: row.name,
      highestSettingLpm: row.maximum_flow_rate_lpm,
      ratedElevationM: row.rated_elevation_m,
      powerDrawW: row.power_draw_w,
      bottleMl: row.bottle_ml,
      tubingM: row.tubing_m,
      alarms: row.alarms,
      lowPurityLight: row.low_purity_light,
    })),
    properties: properties.map((row) => ({
      property: row.name,
      streetAddress: row.street_address,
      elevationM: row.elevation_m,
      zone: row.zone,
      emergencyNumber: row.emergency_number,
      dispatchPhone: row.dispatch_number,
      frontDeskPhone: row.front_desk_phone,
      entrance: row.entrance,
      textToEmergency: row.text_to_emergency === 1,
    })),
    rooms: rooms.map((row) => ({ property: row.name, room: row.room, phone: row.phone, wayIn: row.way_in })),
    units: units.map((row) => ({ unit: row.tag, model: row.name })),
    people: people.map(({ name, phone, role }) => ({ name, phone, role })),
    rentals: await knownRentals(handle, near),
  };
}

async function writeModel({ db }: Handle, entry: ModelEntry): Promise<void> {
  const columns = {
    name: entry.model,
    maximum_flow_rate_lpm: entry.highestSettingLpm,
    rated_elevation_m: entry.ratedElevationM,
    power_draw_w: entry.powerDrawW,
    bottle_ml: entry.bottleMl,
    tubing_m: entry.tubingM,
    alarms: entry.alarms,
    low_purity_light: entry.lowPurityLight,
  };
  await db
    .insertInto('model_sheets')
    .values(columns)
    .onConflict((conflict) => conflict.column('name').doUpdateSet(columns))
    .execute();
}

async function writeProperty({ db }: Handle, entry: PropertyEntry): Promise<void> {
  const columns = {
    name: entry.property,
    street_address: entry.streetAddress,
    elevation_m: entry.elevationM,
    zone: entry.zone,
    emergency_number: entry.emergencyNumber,
    dispatch_number: entry.dispatchPhone,
    front_desk_phone: entry.frontDeskPhone,
    entrance: entry.entrance,
    text_to_emergency: yesNo(entry.textToEmergency),
  };
  await db
    .insertInto('properties')
    .values(columns)
    .onConflict((conflict) => conflict.column('name').doUpdateSet(columns))
    .execute();
}

/** The id of a property by its name as it is on record. */
async function propertyIdOf({ db }: Handle, name: string): Promise<number> {
  return (await db.selectFrom('properties').select('id').where('name', '=', name).executeTakeFirstOrThrow()).id;
}

async function writeRoom(handle: Handle, entry: RoomEntry): Promise<void> {
  const columns = {
    property_id: await propertyIdOf(handle, entry.property),
    room: entry.room,
    room_key: labelKey(entry.room),
    phone: entry.phone,
    way_in: entry.wayIn,
  };
  await handle.db
    .insertInto('rooms')
    .values(columns)
    .onConflict((conflict) => conflict.columns(['property_id', 'room_key']).doUpdateSet(columns))
    .execute();
}

async function writeUnit({ db }: Handle, entry: UnitEntry): Promise<void> {
  const model = await db
    .selectFrom('model_sheets')
    .select('id')
    .where('name', '=', entry.model)
    .executeTakeFirstOrThrow();
  const columns = { tag: entry.unit, tag_key: labelKey(entry.unit), model_sheet_id: model.id };
  await db
    .insertInto('units')
    .values(columns)
    .onConflict((conflict) => conflict.column('tag_key').doUpdateSet(columns))
    .execute();
}

async function writePhones({ db }: Handle, rentalId: number, phones: readonly string[]): Promise<void> {
  await db.deleteFrom('rental_phones').where('rental_id', '=', rentalId).where('phone', 'not in', phones).execute();
  await db
    .insertInto('rental_phones')
    .values(phones.map((phone) => ({ rental_id: rentalId, phone })))
    .onConflict((conflict) => conflict.columns(['rental_id', 'phone']).doNothing())
    .execute();
}

async function writeRental(handle: Handle, entry: RentalEntry): Promise<void> {
  const { db } = handle;
  const unit = await db
    .selectFrom('units')
    .select('id')
    .where('tag_key', '=', labelKey(entry.unit))
    .executeTakeFirstOrThrow();
  const columns = {
    booking: entry.rental,
    guest_name: entry.guest,
    property_id: await propertyIdOf(handle, entry.property),
    room: entry.room,
    room_key: labelKey(entry.room),
    unit_id: unit.id,
    first_day: entry.firstDay,
    last_day: entry.lastDay,
    people: entry.people,
    fragile: yesNo(entry.fragile),
    age_group: entry.ageGroup,
    order_json: entry.order && JSON.stringify(entry.order),
    cylinder: yesNo(entry.cylinder),
    oxygen_at_home: yesNo(entry.oxygenAtHome),
  };
  const { rentalId } = entry;
  if (rentalId !== null) await db.updateTable('rentals').set(columns).where('id', '=', rentalId).execute();
  const id = rentalId ?? (await db.insertInto('rentals').values(columns).returning('id').executeTakeFirstOrThrow()).id;
  await writePhones(handle, id, entry.phones);
}

/** A rental that was cancelled before anybody wrote about it. */
async function removeRental({ db }: Handle, rentalId: number): Promise<void> {
  await db.deleteFrom('rental_phones').where('rental_id', '=', rentalId).execute();
  await db.deleteFrom('rentals').where('id', '=', rentalId).execute();
}

async function write(handle: Handle, written: Written): Promise<void> {
  switch (written.table) {
    case 'models':
      return writeModel(handle, written.entry);
    case 'properties':
      return writeProperty(handle, written.entry);
    case 'rooms':
      return writeRoom(handle, written.entry);
    case 'units':
      return writeUnit(handle, written.entry);
    case 'people': {
      const columns = { ...written.entry, active: yesNo(true) };
      await handle.db
        .insertInto('people')
        .values(columns)
        .onConflict((conflict) => conflict.column('phone').doUpdateSet(columns))
        .execute();
      return;
    }
    case 'rentals': {
      const { cancelled, entry } = written;
      if (!cancelled) return writeRental(handle, entry);
      if (entry.rentalId !== null) await removeRental(handle, entry.rentalId);
      return;
    }
    default:
      written satisfies never;
  }
}

const toldTx = (handle: Handle): ToldTx => ({
  known: (near) => known(handle, near),
  write: (written) => write(handle, written),
  note: (note) => addKeepingNote(handle, note),
});

/** What an import asks of the records, on tables that are open. */
export function toldRecordsOn(records: OpenRecords): ToldRecords {
  return {
    tell: (use) => records.onTables((handle) => use(toldTx(handle))),
    look: (use) => records.viewTables((handle) => use(toldTx(handle))),
  };
}
