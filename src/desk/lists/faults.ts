import { judgeFailures } from '../../care/failing.ts';
import type { Judged } from '../../care/failing.ts';
import { uChart } from '../../care/u-chart.ts';
import type { ChartPoint } from '../../care/u-chart.ts';
import { flowOf, stepsOf } from '../../flow/book.ts';
import type { FlowBook } from '../../flow/book.ts';
import { dayIn, daysLater, mondayOf } from '../../time/calendar.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { RentalOfList, Talk } from './records.ts';

/** What was rented and said in a time, with the days of it. */
export interface Season {
  readonly talks: readonly Talk[];
  readonly rentals: readonly RentalOfList[];
  /** First and last day, both included, ISO. */
  readonly first: string;
  readonly last: string;
}

/** A unit or a room, with the number of rentals in which it failed. */
export type Failing = Judged & { readonly faultyRentals: number };

export interface Week extends ChartPoint {
  /** ISO date */
  readonly monday: string;
}

export interface Failures {
  readonly units: readonly Failing[];
  readonly rooms: readonly Failing[];
  readonly weeks: readonly Week[];
  /** Faults per rental-day of all units together; null where nothing was rented. */
  readonly fleetRate: number | null;
}

/** The night something belongs to, by the day on whose evening it began: two texts around midnight are one matter. */
function nightOf(at: Instant, zone: string): string {
  return dayIn(zone, after(at, '-PT12H'));
}

interface NightOfTalk {
  readonly night: string;
  readonly faultsOf: ReadonlySet<'unit' | 'room'>;
}

/**
 * Night by night, whose fault a conversation's matters turned out to be: each flow's last step of the night that says so,
 * else what the flow says. A conversation goes on for nights while its callout is open.
 */
export function faultsOf(talk: Talk, book: FlowBook, zone: string): readonly NightOfTalk[] {
  const steps = stepsOf(book);
  const ofFlow = new Map(book.flows.map((flow) => [flow.flow, flow['fault-of']]));
  const nights = new Map<string, Map<string, 'unit' | 'room' | 'nobody'>>();
  for (const { who, step, at } of talk.lines) {
    if (who !== 'desk' || step === null || !step.includes('.')) continue;
    const whose = steps.get(step)?.['fault-of'] ?? ofFlow.get(flowOf(step));
    if (whose === undefined) continue;
    const night = nightOf(at, zone);
    nights.set(night, (nights.get(night) ?? new Map<string, 'unit' | 'room' | 'nobody'>()).set(flowOf(step), whose));
  }
  return [...nights].map(([night, byFlow]) => ({
    night,
    faultsOf: new Set([...byFlow.values()].filter((whose) => whose !== 'nobody')),
  }));
}

interface Fault {
  readonly rentalId: number;
  readonly night: string;
}

interface Kind {
  readonly of: 'unit' | 'room';
  readonly keyOf: (rental: RentalOfList) => string;
  readonly nameOf: (rental: RentalOfList) => string;
}

const UNITS: Kind = { of: 'unit', keyOf: ({ tag }) => tag, nameOf: ({ tag }) => tag };
const ROOMS: Kind = {
  of: 'room',
  keyOf: ({ property, roomKey }) => `${property} ${roomKey}`,
  nameOf: ({ property, room }) => `${property}, ${room}`,
};

/** One fault a night at most, by unit or room: two phones of a rental, or a guest who writes again, tell of the same. */
function faultsBy(season: Season, book: FlowBook, { of, keyOf }: Kind): ReadonlyMap<string, readonly Fault[]> {
  const rentals = new Map(season.rentals.map((rental) => [rental.rentalId, rental]));
  const faults = new Map<string, Map<string, Fault>>();
  for (const talk of season.talks) {
    const rental = talk.rentalId === null ? undefined : rentals.get(talk.rentalId);
    if (rental === undefined) continue;
    const known = faults.get(keyOf(rental)) ?? new Map<string, Fault>();
    for (const { night, faultsOf: whose } of faultsOf(talk, book, rental.zone)) {
      if (whose.has(of)) known.set(night, known.get(night) ?? { rentalId: rental.rentalId, night });
    }
    faults.set(keyOf(rental), known);
  }
  return new Map([...faults].map(([key, of]) => [key, [...of.values()]]));
}

/** The days of a rental within the season. */
function daysOf({ firstDay, lastDay }: RentalOfList, { first, last }: Season): readonly string[] {
  const days: string[] = [];
  const end = lastDay < last ? lastDay : last;
  for (let day = firstDay > first ? firstDay : first; day <= end; day = daysLater(day, 1)) days.push(day);
  return days;
}

/** Units, or rooms, against all the others; a day on which two units stood in a room is one day of the room. */
function judged(season: Season, book: FlowBook, kind: Kind): readonly Failing[] {
  const faults = faultsBy(season, book, kind);
  const names = new Map(season.rentals.map((rental) => [kind.keyOf(rental), kind.nameOf(rental)]));
  const days = new Map<string, Set<string>>();
  for (const rental of season.rentals) {
    const known = days.get(kind.keyOf(rental)) ?? new Set();
    for (const day of daysOf(rental, season)) known.add(day);
    days.set(kind.keyOf(rental), known);
  }
  const all = [...names].map(([key, name]) => ({
    name,
    faults: faults.get(key)?.length ?? 0,
    rentalDays: days.get(key)?.size ?? 0,
  }));
  const keys = new Map([...names].map(([key, name]) => [name, key]));
  return judgeFailures(all).map((each) => {
    const of = faults.get(keys.get(each.name) ?? '') ?? [];
    return { ...each, faultyRentals: new Set(of.map(({ rentalId }) => rentalId)).size };
  });
}

/** Faults of units per rental-day, week by week. The first and the last week may be parts of one. */
function weeksOf(season: Season, book: FlowBook): { centre: number | null; weeks: readonly Week[] } {
  const weeks = new Map<string, { events: number; exposure: number }>();
  for (let monday = mondayOf(season.first); monday <= season.last; monday = daysLater(monday, 7)) {
    weeks.set(monday, { events: 0, exposure: 0 });
  }
  const add = (day: string, events: number, exposure: number): void => {
    const known = weeks.get(mondayOf(day));
    if (known === undefined) return;
    known.events += events;
    known.exposure += exposure;
  };
  for (const rental of season.rentals) for (const day of daysOf(rental, season)) add(day, 0, 1);
  for (const of of faultsBy(season, book, UNITS).values()) for (const { night } of of) add(night, 1, 0);
  const mondays = [...weeks.keys()];
  const { centre, points } = uChart([...weeks.values()]);
  return { centre, weeks: points.map((point, index) => ({ ...point, monday: mondays[index] ?? '' })) };
}

/** Units and rooms that fail too often, and the weeks. Pure. */
export function failuresOf(season: Season, book: FlowBook): Failures {
  const { centre, weeks } = weeksOf(season, book);
  return { units: judged(season, book, UNITS), rooms: judged(season, book, ROOMS), weeks, fleetRate: centre };
}
