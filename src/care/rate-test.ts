import { within } from './range.ts';
import type { Range } from './range.ts';

/** So many events in so much time on test: faults in rental-days. */
export interface Rate {
  /** whole, 0 to 1,000,000 */
  readonly events: number;
  /** above 0 up to 10,000,000, in any unit that both rates share */
  readonly exposure: number;
}

const EVENTS: Range = { from: 0, to: 1_000_000, unit: 'events', advice: 'count them, whole' };
const EXPOSURE: Range = {
  from: Number.MIN_VALUE,
  to: 10_000_000,
  unit: 'days',
  advice: 'leave out what was never rented',
};

function checked({ events, exposure }: Rate): Rate {
  within('events', Number.isInteger(events) ? events : Number.NaN, EVENTS);
  within('exposure', exposure, EXPOSURE);
  return { events, exposure };
}

/** The logarithm of n over k. */
function logChoose(n: number, k: number): number {
  let sum = 0;
  for (let i = 1; i <= Math.min(k, n - k); i += 1) sum += Math.log((n - Math.min(k, n - k) + i) / i);
  return sum;
}

/**
 * At least k of n, each with chance p, 0 < p < 1. The tail that does not hold the middle is summed, each term made of the one
 * before, outward: the first term of the other one may be too small to be a number.
 */
function atLeast(k: number, n: number, p: number): number {
  if (k <= 0) return 1;
  const odds = p / (1 - p);
  const exactly = (of: number): number => Math.exp(logChoose(n, of) + of * Math.log(p) + (n - of) * Math.log1p(-p));
  if (k > n * p) {
    let term = exactly(k);
    let sum = term;
    for (let i = k; i < n; i += 1) sum += term *= ((n - i) / (i + 1)) * odds;
    return Math.min(1, sum);
  }
  let term = exactly(k - 1);
  let below = term;
  for (let i = k - 1; i > 0; i -= 1) below += term *= i / (n - i + 1) / odds;
  return Math.max(0, 1 - below);
}

/**
 * How likely so many events or more would be if the one had the rate of the rest: the exact comparison of two Poisson rates,
 * one-sided. Given the total, the one's events are binomial with its share of the exposure.
 * Source: Przyborowski and Wilenski, Biometrika 1940;31:313; the same as R's poisson.test with two counts, "greater".
 * @throws RangeError for events that are no whole number from 0, or an exposure of 0 or less
 */
export function rateTest(one: Rate, rest: Rate): number {
  const [of, among] = [checked(one), checked(rest)];
  return atLeast(of.events, of.events + among.events, of.exposure / (of.exposure + among.exposure));
}

/**
 * Chances of many tests, raised so that the chance of any wrong finding among them stays what it was for one.
 * Source: Holm, Scand J Statist 1979;6:65, the step-down form of Bonferroni's correction, for tests however related.
 * @param chances 0 to 1 each
 * @returns in the order given
 * @throws RangeError for a chance outside 0 to 1
 */
export function holm(chances: readonly number[]): readonly number[] {
  const many = chances.length;
  const raised = chances.map(() => 1);
  let highest = 0;
  chances
    .map((chance, index) => ({ chance: within('chance', chance, { from: 0, to: 1, unit: 'of 1' }), index }))
    .toSorted((a, b) => a.chance - b.chance)
    .forEach(({ chance, index }, rank) => {
      highest = Math.max(highest, Math.min(1, (many - rank) * chance));
      raised[index] = highest;
    });
  return raised;
}
