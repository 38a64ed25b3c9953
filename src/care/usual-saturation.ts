import { ELEVATION_M } from './elevation.ts';
import { within } from './range.ts';
import type { Range } from './range.ts';

/**
 * What a finger oximeter usually shows at rest WITHOUT oxygen, after two published equations: newly arrived and acclimatised
 * (Med Clin (Barc) 2005;124:172, abstract). Weak: the coefficients are printed to one figure, the abstract gives no limits
 * of variation, healthy people differ widely, and a shown 90 may be 86 to 94 (FDA 2021). So this is for the eyes of a
 * technician or to be named to someone without oxygen; never a reassurance, and no threshold: those are in flows/limits.yaml.
 */

/** Above this the rounding of the printed coefficients alone may be more than 8 points. */
const TOLD_M: Range = { ...ELEVATION_M, from: 0, to: 4000 };
const READING_PCT: Range = { from: 1, to: 100, unit: '%', advice: 'take the saturation, not the pulse' };

/** The equations as printed: constant + perM h + perM2 h², h in metres; and half of the last printed figure of each. */
const ARRIVED = { constant: 98.8183, perM: -0.0001, perM2: -0.000001, halfPerM: 0.00005, halfPerM2: 0.0000005 };
const ACCLIMATISED = { constant: 98.2171, perM: 0.0012, perM2: -0.0000008, halfPerM: 0.00005, halfPerM2: 0.00000005 };

function saturationPct(equation: typeof ARRIVED, elevationM: number): number {
  within('elevation', elevationM, TOLD_M);
  return equation.constant + equation.perM * elevationM + equation.perM2 * elevationM ** 2;
}

function roundingPoints(equation: typeof ARRIVED, elevationM: number): number {
  return equation.halfPerM * elevationM + equation.halfPerM2 * elevationM ** 2;
}

/** The equation for the newly arrived, %. @param elevationM 0 to 4,000 m @throws RangeError outside that */
export function arrivedSaturationPct(elevationM: number): number {
  return saturationPct(ARRIVED, elevationM);
}

/**
 * The equation for acclimatised residents, %. As printed it rises by half a point up to 750 m, which no lung does.
 * @param elevationM 0 to 4,000 m
 * @throws RangeError outside that
 */
export function acclimatisedSaturationPct(elevationM: number): number {
  return saturationPct(ACCLIMATISED, elevationM);
}

export interface UsualSaturation {
  /** Whole percent, rounded outward. */
  readonly fromPct: number;
  readonly toPct: number;
  /** How far each equation may be off by the rounding of its printed coefficients alone, points. */
  readonly arrivedMayBeOffPoints: number;
  readonly acclimatisedMayBeOffPoints: number;
}

/**
 * The range between the two equations, with what the rounding of their coefficients may do to each.
 * @param elevationM 0 to 4,000 m
 * @throws RangeError outside that
 */
export function usualSaturation(elevationM: number): UsualSaturation {
  const arrived = arrivedSaturationPct(elevationM);
  const acclimatised = acclimatisedSaturationPct(elevationM);
  return {
    // Up to 430 m the equation for the newly arrived is the higher one, by 0.6 points at most.
    fromPct: Math.floor(Math.min(arrived, acclimatised)),
    toPct: Math.ceil(Math.max(arrived, acclimatised)),
    arrivedMayBeOffPoints: roundingPoints(ARRIVED, elevationM),
    acclimatisedMayBeOffPoints: roundingPoints(ACCLIMATISED, elevationM),
  };
}

/**
 * Where a reading taken without oxygen stands to the usual range of the elevation. "usual" reassures nobody: someone ill at
 * height may read as a healthy newcomer does.
 * @param readingPct 1 to 100 %
 * @param elevationM 0 to 4,000 m
 * @throws RangeError outside those
 */
export function againstUsual(readingPct: number, elevationM: number): 'below' | 'usual' | 'above' {
  within('saturation', readingPct, READING_PCT);
  const { fromPct, toPct } = usualSaturation(elevationM);
  if (readingPct < fromPct) return 'below';
  return readingPct > toPct ? 'above' : 'usual';
}
