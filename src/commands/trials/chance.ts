import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Chance as a value: the same seed brings the same. */
export interface Chance {
  /** A whole number from 0 to below the bound. */
  below(bound: number): number;
  pick<T>(from: readonly T[]): T | undefined;
}

export function chanceFrom(seed: number): Chance {
  const generator = xoroshiro128plus(seed);
  const below = (bound: number): number => uniformInt(generator, 0, bound - 1);
  return { below, pick: (from) => (from.length === 0 ? undefined : from[below(from.length)]) };
}
