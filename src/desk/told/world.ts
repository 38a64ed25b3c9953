import { labelKey } from '../../reading/label.ts';
import type { Known, ModelEntry, PersonEntry, PropertyEntry, RoomEntry, TableName, UnitEntry } from './entries.ts';
import { nameKey } from './table-kind.ts';
import { MODELS, PEOPLE, PROPERTIES, ROOMS, UNITS } from './tables/places.ts';
import type { Taken } from './take.ts';

/** Everything but the rentals by its key, as it stands after the import. */
export interface World {
  readonly models: ReadonlyMap<string, ModelEntry>;
  readonly properties: ReadonlyMap<string, PropertyEntry>;
  readonly rooms: ReadonlyMap<string, RoomEntry>;
  readonly units: ReadonlyMap<string, UnitEntry>;
  readonly people: ReadonlyMap<string, PersonEntry>;
  /** What has something wrong in its own row, which is said there and must not be said again wherever it is named. */
  unread(table: TableName, key: string): boolean;
}

export const byKey = <Row>(keyOf: (row: Row) => string, rows: readonly Row[]): ReadonlyMap<string, Row> =>
  new Map(rows.map((row) => [keyOf(row), row]));

/** What the records know, by key. */
export function worldOf(known: Known): World {
  return {
    models: byKey(MODELS.keyOf, known.models),
    properties: byKey(PROPERTIES.keyOf, known.properties),
    rooms: byKey(ROOMS.keyOf, known.rooms),
    units: byKey(UNITS.keyOf, known.units),
    people: byKey(PEOPLE.keyOf, known.people),
    unread: () => false,
  };
}

/** What is known with what was taken laid over it. */
export function laidOver<Row>(
  known: ReadonlyMap<string, Row>,
  keyOf: (row: Row) => string,
  taken: readonly Taken<Row>[],
): ReadonlyMap<string, Row> {
  return new Map([
    ...known,
    ...byKey(
      keyOf,
      taken.map(({ entry }) => entry),
    ),
  ]);
}

export const propertyNamed = (world: World, name: string): PropertyEntry | undefined =>
  world.properties.get(nameKey(name));
export const unitTagged = (world: World, tag: string): UnitEntry | undefined => world.units.get(labelKey(tag));
export const modelNamed = (world: World, name: string): ModelEntry | undefined => world.models.get(nameKey(name));
