import { standardPressureHpa } from './pressure.ts';
import { within } from './range.ts';
import type { Range } from './range.ts';

/**
 * A litre a minute is not one thing on a mountain. An ambient litre is a litre as it passes there; a standard litre is as much
 * gas as fills a litre at sea level, at the same temperature. A flow tube with a ball, open to the room and marked at sea
 * level, shows neither up here: the ball floats by the density of the gas. Physics, from the standard atmosphere; a unit may
 * correct for it, which only its manual tells, so each function says what it takes and what it gives.
 */

/** The highest mark of an adult's flow tube. */
const READING_LPM: Range = { from: 0, to: 15, unit: 'L/min', advice: 'take the number at the middle of the ball' };

/** A reading of the highest mark, in the thinnest air that `standardPressureHpa` knows, and a little. */
export const AMBIENT_LPM: Range = { from: 0, to: 32, unit: 'L/min', advice: 'take litres a minute' };

/** Sea level's pressure as a multiple of the elevation's: 1 at sea level, 1.445 at 3,000 m. */
function thinning(elevationM: number): number {
  return standardPressureHpa(0) / standardPressureHpa(elevationM);
}

/**
 * What passes, in ambient L/min, when a number is in standard litres.
 * @param standardLpm 0 to 15 L/min
 * @param elevationM -430 to 5,600 m
 * @throws RangeError outside those
 */
export function ambientOfStandardLpm(standardLpm: number, elevationM: number): number {
  return within('standard flow rate', standardLpm, READING_LPM) * thinning(elevationM);
}

/**
 * What passes, in standard L/min, when a number is in ambient litres: the inverse of `ambientOfStandardLpm`.
 * @param ambientLpm 0 to 32 L/min
 * @param elevationM -430 to 5,600 m
 * @throws RangeError outside those
 */
export function standardOfAmbientLpm(ambientLpm: number, elevationM: number): number {
  return within('ambient flow rate', ambientLpm, AMBIENT_LPM) / thinning(elevationM);
}

/**
 * What passes, in ambient L/min, when an uncorrected tube shows a reading: more than it says, by the root of the pressures.
 * @param readingLpm 0 to 15 L/min
 * @param elevationM -430 to 5,600 m
 * @throws RangeError outside those
 */
export function ambientOfReadingLpm(readingLpm: number, elevationM: number): number {
  return within('reading', readingLpm, READING_LPM) * Math.sqrt(thinning(elevationM));
}

/**
 * What passes, in standard L/min, when an uncorrected tube shows a reading: less than it says, by the same root.
 * @param readingLpm 0 to 15 L/min
 * @param elevationM -430 to 5,600 m
 * @throws RangeError outside those
 */
export function standardOfReadingLpm(readingLpm: number, elevationM: number): number {
  return within('reading', readingLpm, READING_LPM) / Math.sqrt(thinning(elevationM));
}
