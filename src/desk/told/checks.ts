import { labelKey } from '../../reading/label.ts';
import type { Problem } from '../../reading/yaml.ts';
import type { KnownRental, ModelEntry, PersonEntry, RentalEntry, RoomEntry, UnitEntry } from './entries.ts';
import { nearest } from './nearest.ts';
import { nameKey } from './table-kind.ts';
import type { Taken } from './take.ts';
import { overlap } from './take-rentals.ts';
import type { TakenRental } from './take-rentals.ts';
import { modelNamed, propertyNamed, unitTagged } from './world.ts';
import type { World } from './world.ts';

/** What holds between the rows of several tables, and what stands on record. */

export function roomFaults(taken: readonly Taken<RoomEntry>[], world: World): readonly Problem[] {
  const names = [...world.properties.values()].map(({ property }) => property);
  return taken
    .filter(({ entry }) => propertyNamed(world, entry.property) === undefined)
    .filter(({ entry }) => !world.unread('properties', nameKey(entry.property)))
    .map(({ row, entry }) => row.say('property', nearest(entry.property, names, 'property')));
}

export function unitFaults(taken: readonly Taken<UnitEntry>[], world: World): readonly Problem[] {
  const names = [...world.models.values()].map(({ model }) => model);
  return taken
    .filter(({ entry }) => modelNamed(world, entry.model) === undefined)
    .filter(({ entry }) => !world.unread('models', nameKey(entry.model)))
    .map(({ row, entry }) => row.say('model', nearest(entry.model, names, 'model')));
}

/** Somebody must stay to whom callouts go in the end. */
export function ownerFaults(taken: readonly Taken<PersonEntry>[], before: World, after: World): readonly Problem[] {
  const hasOwner = (world: World): boolean => [...world.people.values()].some(({ role }) => role === 'owner');
  const last = taken.find(({ change }) => change?.what === 'changed');
  if (last === undefined || !hasOwner(before) || hasOwner(after)) return [];
  return [last.row.say('role', 'nobody would be the owner any more; allowed: owner for at least one person')];
}

function modelOf(world: World, tag: string): ModelEntry | undefined {
  const unit = unitTagged(world, tag);
  return unit === undefined ? undefined : modelNamed(world, unit.model);
}

/** An order that the unit cannot serve, and a guest's phone that is a technician's. */
export function rentalFaults(taken: readonly TakenRental[], world: World): readonly Problem[] {
  return taken.flatMap(({ row, entry, cancelled }) => {
    if (cancelled) return [];
    const faults: Problem[] = [];
    const model = modelOf(world, entry.unit);
    const highest = Math.max(0, ...(entry.order?.lines ?? []).map(({ toLpm }) => toLpm));
    if (model !== undefined && highest > model.highestSettingLpm) {
      const allowed = `allowed: up to ${model.highestSettingLpm} L/min, the highest setting of ${entry.unit}`;
      faults.push(row.say('order', `${highest} L/min came; ${allowed}; choose another unit`));
    }
    for (const phone of entry.phones.filter((each) => world.people.has(each))) {
      const person = world.people.get(phone)?.name ?? '';
      faults.push(
        row.say('phones', `${phone} is the phone of ${person}, whose texts are a technician's; give the guest's`),
      );
    }
    return faults;
  });
}

/** A rental as it would stand, with the row that says so if one does. */
interface Standing {
  readonly entry: RentalEntry;
  readonly taken: TakenRental | null;
}

/** All rentals as they would stand after the import. */
function standingAfter(taken: readonly TakenRental[], known: readonly KnownRental[]): readonly Standing[] {
  const told = new Set(taken.map(({ entry }) => entry.rentalId));
  return [
    ...known.filter(({ rentalId }) => !told.has(rentalId)).map((entry) => ({ entry, taken: null })),
    ...taken.filter(({ cancelled }) => !cancelled).map((each) => ({ entry: each.entry, taken: each })),
  ];
}

function whereOf({ entry, taken }: Standing): string {
  const days = `${entry.firstDay} to ${entry.lastDay}`;
  return taken === null ? `on record, ${days}` : `${taken.row.file}, line ${taken.row.line}, ${days}`;
}

/** Pairs of neighbours in time that share a day; each with the later row of the two to say it at. */
function pairs(standing: readonly Standing[]): readonly { readonly at: TakenRental; readonly other: Standing }[] {
  const inTime = standing.toSorted((a, b) => (a.entry.firstDay < b.entry.firstDay ? -1 : 1));
  return inTime.flatMap((one, index) =>
    inTime.slice(index + 1).flatMap((other) => {
      if (!overlap(one.entry, other.entry)) return [];
      if (other.taken !== null && (one.taken === null || other.taken.row.line >= one.taken.row.line)) {
        return [{ at: other.taken, other: one }];
      }
      return one.taken === null ? [] : [{ at: one.taken, other }];
    }),
  );
}

/** Stays of one unit that share a day. */
export function overlapFaults(taken: readonly TakenRental[], known: readonly KnownRental[]): readonly Problem[] {
  const byUnit = Map.groupBy(standingAfter(taken, known), ({ entry }) => labelKey(entry.unit));
  return [...byUnit.values()].flatMap(pairs).map(({ at, other }) => {
    const { entry, row } = at;
    const days = `${entry.firstDay} to ${entry.lastDay}`;
    const message = `${entry.unit} is taken from ${days} and also ${whereOf(other)}; allowed: one stay a day, so change the unit or the days`;
    return row.say('unit', message);
  });
}

/** Phones on two rentals of one day: the desk then has to ask which it is about. */
function sharedPhoneNotes(taken: readonly TakenRental[], known: readonly KnownRental[]): readonly Problem[] {
  const byPhone = Map.groupBy(
    standingAfter(taken, known).flatMap((each) => each.entry.phones.map((phone) => ({ ...each, phone }))),
    ({ phone }) => phone,
  );
  return [...byPhone].flatMap(([phone, standing]) =>
    pairs(standing).map(({ at, other }) =>
      at.row.say(
        'phones',
        `${phone} is on another rental of the same days (${whereOf(other)}): the desk will ask which`,
      ),
    ),
  );
}

/** Units that stand higher than their maker vouches for; once for each unit and property. */
function elevationNotes(taken: readonly TakenRental[], world: World): readonly Problem[] {
  const said = new Set<string>();
  return taken.flatMap(({ row, entry, cancelled }) => {
    const model = modelOf(world, entry.unit);
    const property = propertyNamed(world, entry.property);
    const rated = model?.ratedElevationM ?? null;
    if (cancelled || property === undefined || rated === null || property.elevationM <= rated) return [];
    const key = `${entry.unit} ${property.property}`;
    if (said.has(key)) return [];
    said.add(key);
    const message =
      `${entry.unit} is rated up to ${rated} m and ${property.property} stands at ${property.elevationM} m: ` +
      'it may give less oxygen than it shows there; ask its maker, or choose another unit';
    return [row.say('unit', message)];
  });
}

/** What is taken over all the same, and should be known. */
export function rentalNotes(
  taken: readonly TakenRental[],
  known: readonly KnownRental[],
  world: World,
): readonly Problem[] {
  return [...elevationNotes(taken, world), ...sharedPhoneNotes(taken, known)];
}
