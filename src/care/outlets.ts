import { within } from './range.ts';
import type { Range } from './range.ts';

/** What a guest found out about an outlet of a room, so many days ago. */
export interface OutletNote {
  /** A name of the place: "window". */
  readonly place: string;
  /** Whether it gave power. */
  readonly worked: boolean;
  /** 0 or more */
  readonly ageDays: number;
}

/** What is to be thought of an outlet after all that was found out about it. */
export interface OutletBelief {
  readonly place: string;
  readonly worked: number;
  readonly failed: number;
  /** Days since the latest note. */
  readonly ageDays: number;
  /** How sure it is that it works, 0 to 1: a half where nothing is known. */
  readonly sure: number;
}

/** After this a note counts half: furniture moves and wiring is mended. Own choice, no source. */
export const NOTE_HALVES_AFTER_DAYS = 180;
/** From here on a guest is sent there: one fresh note is worth 0.67, one for and one against 0.5. Own choice, no source. */
export const SURE_ENOUGH_TO_TELL = 0.6;

const AGE_DAYS: Range = { from: 0, to: 36_500, unit: 'days', advice: 'a note cannot be of tomorrow' };

/**
 * What the notes of one room say of each of its outlets, the surest first. Each note counts half as much every 180 days, so
 * that a contradiction fades as well; the sum is weighed by Laplace's rule of succession, (for + 1) / (for + against + 2).
 * @throws RangeError for an age below 0 or above 36,500 days
 */
export function outletBeliefs(notes: readonly OutletNote[]): readonly OutletBelief[] {
  return [...Map.groupBy(notes, ({ place }) => place)]
    .map(([place, of]) => {
      const weight = (worked: boolean): number =>
        of
          .filter((note) => note.worked === worked)
          .reduce((sum, { ageDays }) => sum + 0.5 ** (within('age', ageDays, AGE_DAYS) / NOTE_HALVES_AFTER_DAYS), 0);
      return {
        place,
        worked: of.filter(({ worked }) => worked).length,
        failed: of.filter(({ worked }) => !worked).length,
        ageDays: Math.min(...of.map(({ ageDays }) => ageDays)),
        sure: (weight(true) + 1) / (weight(true) + weight(false) + 2),
      };
    })
    .toSorted((a, b) => b.sure - a.sure || a.ageDays - b.ageDays || (a.place < b.place ? -1 : 1));
}

/**
 * The outlet that a guest may be sent to: the surest, if it is sure enough. Nobody is sent to "another wall" where a place
 * with a name is as good.
 * @param unnamed the place that stands for one nobody has named
 */
export function outletToTell(beliefs: readonly OutletBelief[], unnamed: string): string | null {
  const good = beliefs.filter(({ sure }) => sure >= SURE_ENOUGH_TO_TELL);
  return (good.find(({ place }) => place !== unnamed) ?? good[0])?.place ?? null;
}
