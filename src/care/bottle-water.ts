import { AMBIENT_LPM } from './flow-at-elevation.ts';
import { within } from './range.ts';
import type { Range } from './range.ts';
import { saturatedWaterMgPerL } from './vapour.ts';

/**
 * How fast the oxygen carries a bottle's water away, for dry gas that bubbles through unheated water at room temperature.
 * The one unknown is the bubbling efficiency: how nearly the gas leaves full of water, 1 at most. Measured 0.70 to 0.83 at
 * 2 L/min (Respir Care 1982, PMID 10315156) and 0.725 to 0.787 at 5 to 15 L/min (Waugh and Granger, Respir Care 2004;49:902),
 * both near sea level. The flow rate is in ambient litres; see flow-at-elevation.ts for what a tube or an order means by one.
 */

/** Gives the earliest, and so the safe, hour at which the water is low. */
export const HIGHEST_EFFICIENCY = 1;
/** The lowest figure of the two papers. The first says that it falls as the flow rate rises, without one: later still, then. */
export const LOWEST_EFFICIENCY = 0.7;

const EFFICIENCY: Range = { from: 0.05, to: 1, unit: 'of saturation', advice: 'give a fraction, not percent' };
/** What bottles hold between their two lines. */
export const USABLE_ML: Range = {
  from: 10,
  to: 2000,
  unit: 'mL',
  advice: 'measure from the upper line to the lower one',
};
/** A bottle through which nothing flows never runs low: no hours can be told. */
const FLOWING_LPM: Range = { ...AMBIENT_LPM, from: 0.1 };

export interface Bubbling {
  /** 0 to 32 L/min, as the gas passes there */
  readonly ambientLpm: number;
  /** 0 to 50 °C */
  readonly roomC: number;
  /** 0.05 to 1; 1 unless given */
  readonly efficiency?: number;
}

/** Water carried away, mL/h (a gram is taken as a millilitre). @throws RangeError outside the ranges of `Bubbling`. */
export function waterMlPerHour({ ambientLpm, roomC, efficiency = HIGHEST_EFFICIENCY }: Bubbling): number {
  within('ambient flow rate', ambientLpm, AMBIENT_LPM);
  within('bubbling efficiency', efficiency, EFFICIENCY);
  return (60 * ambientLpm * efficiency * saturatedWaterMgPerL(roomC)) / 1000;
}

/**
 * Hours until the water is down to the minimum line.
 * @param usableMl water above the minimum line, 10 to 2,000 mL
 * @param bubbling a flow rate of at least 0.1 L/min
 * @throws RangeError outside those and the ranges of `Bubbling`
 */
export function hoursToMinimumLine(usableMl: number, bubbling: Bubbling): number {
  within('usable water', usableMl, USABLE_ML);
  within('ambient flow rate', bubbling.ambientLpm, FLOWING_LPM);
  return usableMl / waterMlPerHour(bubbling);
}
