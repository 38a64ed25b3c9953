import { holm, rateTest } from './rate-test.ts';

/** A unit, or a room: how often it failed in how many days of rental. */
export interface Failures {
  readonly name: string;
  /** whole, from 0 */
  readonly faults: number;
  /** days on which it was rented, from 0 */
  readonly rentalDays: number;
}

export interface Judged extends Failures {
  /** Days of rental between two faults of all the others together; null where they had none. */
  readonly othersDaysAFault: number | null;
  /** How likely so many faults or more would be at the others' rate. */
  readonly chance: number;
  /** The same, raised for the number of those that were judged. */
  readonly raised: number;
  /** "pull": it fails too often, and chance does not explain it; "watch": it would be that for one alone; or "fine". */
  readonly verdict: 'pull' | 'watch' | 'fine';
}

/** Never on two faults alone. Own choice, no source. */
export const FEWEST_FAULTS = 3;
/** The chance of any wrong "pull" in one list. Common practice. */
export const WRONG_IN_ONE_OF = 20;

/**
 * Judges each against all the others together, by an exact Poisson test with Holm's correction for their number. The worst
 * first. What was never rented is left out, and where only one was rented there is nothing to compare it with.
 * @throws RangeError as `rateTest`
 */
export function judgeFailures(all: readonly Failures[]): readonly Judged[] {
  const rented = all.filter(({ rentalDays }) => rentalDays > 0);
  const faults = rented.reduce((sum, each) => sum + each.faults, 0);
  const days = rented.reduce((sum, each) => sum + each.rentalDays, 0);
  const chances = rented.map((each) =>
    rented.length === 1
      ? 1
      : rateTest(
          { events: each.faults, exposure: each.rentalDays },
          { events: faults - each.faults, exposure: days - each.rentalDays },
        ),
  );
  const raised = holm(chances);
  return rented
    .map((each, index): Judged => {
      const chance = chances[index] ?? 1;
      const enough = each.faults >= FEWEST_FAULTS;
      const othersFaults = faults - each.faults;
      const isRare = (of: number): boolean => enough && of < 1 / WRONG_IN_ONE_OF;
      return {
        ...each,
        othersDaysAFault: othersFaults === 0 ? null : (days - each.rentalDays) / othersFaults,
        chance,
        raised: raised[index] ?? 1,
        verdict: isRare(raised[index] ?? 1) ? 'pull' : isRare(chance) ? 'watch' : 'fine',
      };
    })
    .toSorted((a, b) => a.chance - b.chance || b.faults - a.faults || (a.name < b.name ? -1 : 1));
}
