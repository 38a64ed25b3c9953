/** What a quantity may be, both ends included. */
export interface Range {
  readonly from: number;
  readonly to: number;
  readonly unit: string;
  /** What to look at when a value is outside, such as another unit that is easily given instead. */
  readonly advice?: string;
}

/**
 * The value itself, when it is in the range: a wrong quantity stops where it comes in, rather than come out as a number
 * that looks fine.
 * @throws RangeError naming the quantity, what came, the range and what to look at; also for NaN.
 */
export function within(quantity: string, value: number, { from, to, unit, advice }: Range): number {
  if (value >= from && value <= to) return value;
  const asked = advice === undefined ? '' : `; ${advice}`;
  throw new RangeError(`${quantity}: ${value} is not within ${from} to ${to} ${unit}${asked}`);
}
