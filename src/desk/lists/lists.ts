import type { OutletBelief } from '../../care/outlets.ts';
import type { FlowBook } from '../../flow/book.ts';
import { dayIn, daysLater, instantAt } from '../../time/calendar.ts';
import type { Instant } from '../../time/instant.ts';
import { beliefsAt } from '../guest/outlets.ts';
import type { Records } from '../records.ts';
import { costsOf } from './cost.ts';
import { deliveriesOf } from './deliveries.ts';
import type { Delivery } from './deliveries.ts';
import { failuresOf } from './faults.ts';
import type { Failures, Season } from './faults.ts';
import type { ListRecords } from './records.ts';
import { hardSteps, notUnderstood } from './told.ts';
import type { NotUnderstood, StepStanding } from './told.ts';

/** How far back the lists look, unless another number is asked for. Faults of a season ago say little of a unit today. */
export const USUAL_DAYS = 90;
export const MOST_DAYS = 1000;

export interface ListsParts {
  readonly lists: ListRecords;
  readonly records: Records;
  readonly book: FlowBook;
  /** The outfit's own zone, in which the lists begin and end. */
  readonly zone: string;
  /** What the carrier takes for a text part, in cents; null where it is not set. */
  readonly centsAPart: number | null;
  readonly now: Instant;
}

/** What is known of the outlets of one room. */
export interface KnownRoom {
  readonly property: string;
  readonly room: string;
  /** The surest first. */
  readonly outlets: readonly OutletBelief[];
}

/** What the desk has learned, as its owner reads it. */
export interface OwnerLists {
  /** Units and rooms that fail too often in the last so many days, and the weeks. */
  failing(days: number): Promise<Failures>;
  /** Rooms of which something is known, by property. */
  outlets(): Promise<readonly KnownRoom[]>;
  notUnderstood(days: number): Promise<readonly NotUnderstood[]>;
  hardSteps(days: number): Promise<readonly StepStanding[]>;
  /** The units to be brought on a day, ISO; those to be pulled are judged by the last so many days. */
  deliveries(day: string, days?: number): Promise<readonly Delivery[]>;
  costs(days: number): Promise<ReturnType<typeof costsOf>>;
}

/**
 * The lists. What was said and rented is read once for each number of days: a new look takes new lists.
 * @throws RangeError for days that are no whole number from 1 to 1,000
 */
export function ownerLists(parts: ListsParts): OwnerLists {
  const { lists, records, book, zone, centsAPart, now } = parts;

  const seasons = new Map<number, Promise<Season>>();
  function season(days: number): Promise<Season> {
    const known = seasons.get(days) ?? readSeason(days);
    seasons.set(days, known);
    return known;
  }
  async function readSeason(days: number): Promise<Season> {
    if (!Number.isInteger(days) || days < 1 || days > MOST_DAYS) {
      throw new RangeError(`days: ${days} is not a whole number from 1 to ${MOST_DAYS}`);
    }
    const last = dayIn(zone, now);
    const first = daysLater(last, 1 - days);
    const [from, until] = [instantAt(first, '00:00', zone), instantAt(daysLater(last, 1), '00:00', zone)];
    return { talks: await lists.talks(from, until), rentals: await lists.rentals(first, last), first, last };
  }

  return {
    failing: async (days) => failuresOf(await season(days), book),
    outlets: async () =>
      (await lists.outlets()).map(({ property, room, notes }) => ({ property, room, outlets: beliefsAt(notes, now) })),
    notUnderstood: async (days) => notUnderstood((await season(days)).talks),
    hardSteps: async (days) => hardSteps((await season(days)).talks),
    async deliveries(day, days = USUAL_DAYS) {
      const { units } = failuresOf(await season(days), book);
      const stays = await lists.staysOn(day);
      const outlets = await lists.outlets();
      const sheet = await records.read((tx) => tx.settingSheet());
      const toPull = units.filter(({ verdict }) => verdict === 'pull').map(({ name }) => name);
      return deliveriesOf({ day, stays, outlets, sheet, toPull }, book, now);
    },
    costs: async (days) => costsOf((await season(days)).talks, book, centsAPart),
  };
}
