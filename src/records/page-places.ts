import type { HistoryLine, Places, RoomHistory, UnitHistory } from '../pages/records.ts';
import type { ModelSheet, Unit } from '../desk/property.ts';
import type { Handle } from './engine.ts';
import { outletNotes } from './outlets.ts';
import { toldOf } from './page-nights.ts';
import { property as propertyById, toProperty } from './stays.ts';
import { labelKey } from '../reading/label.ts';

/** A unit's or a room's page is read, not studied. */
const MOST_CONVERSATIONS = 50;

const unitsIn = ({ db }: Handle) =>
  db
    .selectFrom('units')
    .innerJoin('model_sheets', 'model_sheets.id', 'units.model_sheet_id')
    .select([
      'units.id',
      'units.tag',
      'model_sheets.id as model_id',
      'model_sheets.name',
      'model_sheets.maximum_flow_rate_lpm',
      'model_sheets.rated_elevation_m',
      'model_sheets.power_draw_w',
      'model_sheets.bottle_ml',
    ]);

interface SheetColumns {
  readonly model_id: number;
  readonly name: string;
  readonly maximum_flow_rate_lpm: number;
  readonly rated_elevation_m: number | null;
  readonly power_draw_w: number | null;
  readonly bottle_ml: number | null;
}

function toModel(row: SheetColumns): ModelSheet {
  return {
    id: row.model_id,
    name: row.name,
    maximumFlowRateLpm: row.maximum_flow_rate_lpm,
    ratedElevationM: row.rated_elevation_m,
    powerDrawW: row.power_draw_w,
    bottleMl: row.bottle_ml,
  };
}

function toUnit(row: Awaited<ReturnType<ReturnType<typeof unitsIn>['executeTakeFirstOrThrow']>>): Unit {
  return { id: row.id, tag: row.tag, model: toModel(row) };
}

/** Every property, room, unit and model of the outfit, by name and tag. */
export async function places(handle: Handle): Promise<Places> {
  const properties = await handle.db.selectFrom('properties').selectAll().orderBy('name').execute();
  const units = await unitsIn(handle).orderBy('units.tag_key').execute();
  const models = await handle.db
    .selectFrom('model_sheets')
    .select(['id as model_id', 'name', 'maximum_flow_rate_lpm', 'rated_elevation_m', 'power_draw_w', 'bottle_ml'])
    .orderBy('name')
    .execute();
  const rooms = await handle.db
    .selectFrom('rooms')
    .select(['property_id as propertyId', 'room'])
    .orderBy('room_key')
    .execute();
  return { properties: properties.map(toProperty), units: units.map(toUnit), models: models.map(toModel), rooms };
}

/** Columns of a conversation as a history names it. */
const COLUMNS = ['conversations.id', 'conversations.opened_at', 'conversations.ending', 'conversations.room'] as const;

async function toHistory(
  handle: Handle,
  rows: readonly (Pick<HistoryLine, 'id' | 'ending' | 'room'> & { readonly opened_at: HistoryLine['openedAt'] })[],
): Promise<readonly HistoryLine[]> {
  const told = await toldOf(
    handle,
    rows.map((row) => row.id),
  );
  return rows.map(({ opened_at: openedAt, ...row }) => ({
    ...row,
    openedAt,
    firstWords: told.get(row.id)?.firstWords ?? '',
    flows: told.get(row.id)?.flows ?? [],
  }));
}

/** A unit with the latest conversations about it; null when there is none with that id. */
export async function unit(handle: Handle, unitId: number): Promise<UnitHistory | null> {
  const row = await unitsIn(handle).where('units.id', '=', unitId).executeTakeFirst();
  if (!row) return null;
  const rows = await handle.db
    .selectFrom('rentals')
    .innerJoin('conversations', 'conversations.rental_id', 'rentals.id')
    .select(COLUMNS)
    .where('rentals.unit_id', '=', unitId)
    .orderBy('conversations.opened_at', 'desc')
    .limit(MOST_CONVERSATIONS)
    .execute();
  return { unit: toUnit(row), conversations: await toHistory(handle, rows) };
}

/** Conversations about a room: those of its rentals, and those of guests without one who named it. Newest first. */
async function conversationsOfRoom({ db }: Handle, propertyId: number, label: string) {
  const key = labelKey(label);
  const ofRentals = await db
    .selectFrom('rentals')
    .innerJoin('conversations', 'conversations.rental_id', 'rentals.id')
    .select(COLUMNS)
    .where('rentals.room_key', '=', key)
    .where('rentals.property_id', '=', propertyId)
    .orderBy('conversations.opened_at', 'desc')
    .limit(MOST_CONVERSATIONS)
    .execute();
  // A room that guests named is kept as they wrote it: the latest of the whole property are looked through.
  const named = await db
    .selectFrom('conversations')
    .select(COLUMNS)
    .where('property_id', '=', propertyId)
    .where('rental_id', 'is', null)
    .where('room', 'is not', null)
    .orderBy('opened_at', 'desc')
    .limit(500)
    .execute();
  const here = [...ofRentals, ...named.filter((row) => labelKey(row.room ?? '') === key)];
  return here.toSorted((a, b) => (a.opened_at < b.opened_at ? 1 : -1)).slice(0, MOST_CONVERSATIONS);
}

/** A room with what guests found out about its outlets; null when the property is not known. */
export async function room(handle: Handle, propertyId: number, label: string): Promise<RoomHistory | null> {
  const property = await propertyById(handle, propertyId);
  if (property === null) return null;
  return {
    property,
    room: label,
    outlets: await outletNotes(handle, propertyId, label),
    conversations: await toHistory(handle, await conversationsOfRoom(handle, propertyId, label)),
  };
}
