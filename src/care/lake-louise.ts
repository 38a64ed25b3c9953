import { within } from './range.ts';

/**
 * The 2018 Lake Louise acute mountain sickness score: Roach and others, High Alt Med Biol 2018;19(1):4-6. Four items of 0
 * to 3; the sleep item of 1993 is gone, so totals of the two must never be mixed. Its authors mean it for research: here it
 * sorts who must be seen and how soon, and says nothing to a guest by itself. Not for children under four.
 */

export interface LakeLouiseItems {
  /** 0 none to 3 severe */
  readonly headache: number;
  /** stomach: 0 well to 3 severe nausea and vomiting */
  readonly gut: number;
  readonly fatigue: number;
  readonly dizziness: number;
}

/** Hours at altitude before which tiredness of the journey and the like would be counted as sickness. */
export const HOURS_BEFORE_SCORING = 6;
const SICK_FROM_TOTAL = 3;
const MODERATE_FROM_TOTAL = 6;
const SEVERE_FROM_TOTAL = 10;
const WORST = 3;

export type LakeLouiseResult = 'too-early' | 'not-by-score' | 'mild' | 'moderate' | 'severe';

/** The sum of the items, 0 to 12. @throws RangeError for an item that is not 0, 1, 2 or 3. */
export function lakeLouiseTotal(items: LakeLouiseItems): number {
  const values = Object.entries(items) as [string, number][];
  for (const [item, value] of values) {
    if (![0, 1, 2, 3].includes(value)) throw new RangeError(`Lake Louise ${item}: ${value} is not 0, 1, 2 or 3`);
  }
  return values.reduce((sum, [, value]) => sum + value, 0);
}

/** Whether any item is at its worst: such a case is never called mild, whatever the total. */
export function hasWorstItem(items: LakeLouiseItems): boolean {
  return Object.values(items).includes(WORST);
}

/**
 * What the score says after so many hours at altitude: sick with a headache of at least 1 and a total of at least 3, after
 * at least 6 hours. "not-by-score" rules nothing out: without a headache someone may be ill all the same.
 * @param hoursAtAltitude 0 or more; Infinity where it was not told and is to count as enough
 * @throws RangeError for hours below 0, and for an item that is not 0, 1, 2 or 3
 */
export function lakeLouise(items: LakeLouiseItems, hoursAtAltitude: number): LakeLouiseResult {
  const total = lakeLouiseTotal(items);
  within('hours at altitude', hoursAtAltitude, { from: 0, to: Infinity, unit: 'h' });
  if (hoursAtAltitude < HOURS_BEFORE_SCORING) return 'too-early';
  if (items.headache < 1 || total < SICK_FROM_TOTAL) return 'not-by-score';
  if (total >= SEVERE_FROM_TOTAL) return 'severe';
  if (total >= MODERATE_FROM_TOTAL) return 'moderate';
  return hasWorstItem(items) ? 'moderate' : 'mild';
}
