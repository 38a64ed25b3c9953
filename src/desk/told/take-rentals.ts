import { labelKey } from '../../reading/label.ts';
import type { Problem } from '../../reading/yaml.ts';
import type { Day } from '../../time/calendar.ts';
import type { Order } from '../property.ts';
import { dayAt } from './date.ts';
import type { KnownRental, PropertyEntry, RentalEntry } from './entries.ts';
import { nearest } from './nearest.ts';
import type { WrittenLine } from './order-lines.ts';
import { emptiesOf } from './rows.ts';
import type { PlacedRow } from './rows.ts';
import { nameKey } from './table-kind.ts';
import type { TableKind } from './table-kind.ts';
import type { RentalRow } from './tables/rentals.ts';
import { roomKeyOf } from './tables/places.ts';
import { differences } from './take.ts';
import type { Taken } from './take.ts';
import { propertyNamed, unitTagged } from './world.ts';
import type { World } from './world.ts';

export interface TakenRental extends Taken<RentalRow, RentalEntry> {
  readonly cancelled: boolean;
}

const COMPARED = [
  'rental',
  'guest',
  'phones',
  'property',
  'room',
  'unit',
  'firstDay',
  'lastDay',
  'people',
  'fragile',
  'ageGroup',
  'cylinder',
  'oxygenAtHome',
  'order',
] as const satisfies readonly (keyof RentalEntry)[];

export const overlap = (
  one: Pick<RentalEntry, 'firstDay' | 'lastDay'>,
  other: Pick<RentalEntry, 'firstDay' | 'lastDay'>,
): boolean => one.firstDay <= other.lastDay && other.firstDay <= one.lastDay;

/** A line of the order is for as many people as the rental has, where it does not say. */
function linesFor(written: readonly WrittenLine[], people: number): Order['lines'] {
  return written.map((line) => ({ ...line, people: line.people ?? (people === 2 ? 2 : 1) }));
}

function orderOf(row: Partial<RentalRow>, people: number): Order | null {
  const { order: written, orderedBy, mask = false, keepsCo2: keepsCarbonDioxide = false } = row;
  if (written == null && orderedBy == null && !mask && !keepsCarbonDioxide) return null;
  return { orderedBy: orderedBy ?? '', lines: linesFor(written ?? [], people), mask, keepsCarbonDioxide };
}

/** The days of a row where its property is; with dates that have no time the zone does not matter. */
function daysOf(
  { firstDay, lastDay }: Partial<RentalRow>,
  place: PropertyEntry | undefined,
): { readonly firstDay: Day; readonly lastDay: Day } {
  const zone = place?.zone ?? 'UTC';
  if (firstDay === undefined || lastDay === undefined)
    throw new Error('Rentals: a row without its days was not refused');
  return { firstDay: dayAt(firstDay, zone), lastDay: dayAt(lastDay, zone) };
}

/** Names of a row that nothing has. Null where one is of a row that could not be read: then no more can be said. */
function faultsOf({ given, say }: PlacedRow<RentalRow>, world: World): readonly Problem[] | null {
  const { property = '', room = '', unit = '', order, orderedBy } = given;
  const faults: Problem[] = [];
  const place = propertyNamed(world, property);
  if (place === undefined) {
    if (world.unread('properties', nameKey(property))) return null;
    const names = [...world.properties.values()].map((each) => each.property);
    faults.push(say('property', nearest(property, names, 'property')));
  } else {
    const rooms = [...world.rooms.values()].filter((each) => nameKey(each.property) === nameKey(property));
    const key = roomKeyOf(property, room);
    if (rooms.length > 0 && !world.rooms.has(key) && !world.unread('rooms', key)) {
      const labels = rooms.map((each) => each.room);
      faults.push(say('room', nearest(room, labels, `room of ${place.property}`)));
    }
  }
  if (unitTagged(world, unit) === undefined) {
    if (world.unread('units', labelKey(unit))) return null;
    const tags = [...world.units.values()].map((each) => each.unit);
    faults.push(say('unit', nearest(unit, tags, 'unit')));
  }
  if (order != null && orderedBy == null) {
    faults.push(say('orderedBy', 'it is empty beside an order; allowed: the name of whoever signed it'));
  }
  const { firstDay, lastDay } = daysOf(given, place);
  if (lastDay < firstDay) {
    faults.push(say('lastDay', `${lastDay} is before the first day, ${firstDay}; allowed: that day or later`));
  }
  return faults;
}

/** The rental on record that a row is about: by the owner's number, else the same guest with the same unit on days that touch. */
function standingFor(entry: RentalEntry, known: readonly KnownRental[]): KnownRental | undefined {
  const byNumber =
    entry.rental === null
      ? undefined
      : known.find((each) => each.rental !== null && nameKey(each.rental) === nameKey(entry.rental ?? ''));
  return (
    byNumber ??
    known.find(
      (each) =>
        (each.rental === null || entry.rental === null) &&
        labelKey(each.unit) === labelKey(entry.unit) &&
        nameKey(each.guest) === nameKey(entry.guest) &&
        overlap(each, entry),
    )
  );
}

function entryOf(row: RentalRow, world: World): RentalEntry {
  const { firstDay, lastDay, orderedBy: _, order: __, mask: ___, keepsCo2: ____, cancelled: _____, ...plain } = row;
  const place = propertyNamed(world, row.property);
  return {
    ...plain,
    ...daysOf({ firstDay, lastDay }, place),
    rentalId: null,
    property: place?.property ?? row.property,
    unit: unitTagged(world, row.unit)?.unit ?? row.unit,
    order: orderOf(row, row.people),
  };
}

/** The entry of a row over the one that stands; columns that the file lacks leave it as it is. */
function over(standing: KnownRental, entry: RentalEntry, { given }: PlacedRow<RentalRow>): RentalEntry {
  const says = (field: keyof RentalRow): boolean => field in given;
  return {
    ...entry,
    rentalId: standing.rentalId,
    rental: entry.rental ?? standing.rental,
    people: says('people') ? entry.people : standing.people,
    fragile: says('fragile') ? entry.fragile : standing.fragile,
    ageGroup: says('ageGroup') ? entry.ageGroup : standing.ageGroup,
    cylinder: says('cylinder') ? entry.cylinder : standing.cylinder,
    oxygenAtHome: says('oxygenAtHome') ? entry.oxygenAtHome : standing.oxygenAtHome,
    order: says('order') ? entry.order : standing.order,
  };
}

function takeOne(
  kind: TableKind<RentalRow>,
  row: PlacedRow<RentalRow>,
  known: readonly KnownRental[],
  world: World,
): { readonly taken: TakenRental | null; readonly problems: readonly Problem[] } {
  const complete = { ...emptiesOf(kind), ...row.given } as RentalRow;
  const entry = entryOf(complete, world);
  const standing = standingFor(entry, known);
  const name = kind.called(complete);
  const { cancelled } = complete;
  if (standing === undefined) {
    const change = cancelled ? null : ({ table: 'rentals', what: 'new', name, fields: [] } as const);
    return { taken: { row, entry, change, cancelled }, problems: [] };
  }
  const after = over(standing, entry, row);
  if (cancelled) {
    if (standing.hasConversations) {
      const message =
        'the guest has written about this rental, so it stays on record; give it an earlier last_day instead';
      return { taken: null, problems: [row.say('cancelled', message)] };
    }
    const change = { table: 'rentals', what: 'taken away', name, fields: [] } as const;
    return { taken: { row, entry: after, change, cancelled }, problems: [] };
  }
  const fields = differences(COMPARED, standing, after);
  const change = fields.length === 0 ? null : ({ table: 'rentals', what: 'changed', name, fields } as const);
  return { taken: { row, entry: after, change, cancelled }, problems: [] };
}

/** What each row of rentals makes of a rental, new or on record, and what is wrong with the others. */
export function takeRentals(
  kind: TableKind<RentalRow>,
  rows: readonly PlacedRow<RentalRow>[],
  known: readonly KnownRental[],
  world: World,
): { readonly taken: readonly TakenRental[]; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const taken: TakenRental[] = [];
  // One on record is changed by one row only; a second row about it is a rental of its own, and overlaps.
  const free = new Set(known);
  for (const row of rows) {
    const faults = faultsOf(row, world);
    problems.push(...(faults ?? []));
    if (faults === null || faults.length > 0) continue;
    const one = takeOne(kind, row, [...free], world);
    problems.push(...one.problems);
    if (one.taken === null) continue;
    const { rentalId } = one.taken.entry;
    for (const each of free) if (each.rentalId === rentalId) free.delete(each);
    taken.push(one.taken);
  }
  return { taken, problems };
}
