import { ELEVATION_M } from './elevation.ts';
import { within } from './range.ts';
import type { Range } from './range.ts';

/**
 * Air pressure at an elevation, two ways that disagree by design. The standard atmosphere is a mean of middle latitudes over
 * the year; West's is fitted to mountains where people climb, mostly in summer, and gives 11 mmHg more at 3,000 m. Elevation
 * above sea level stands for geopotential height: they differ by 1.4 m at 3,000 m.
 */

/** ISO 2533 / ICAO standard atmosphere, 0 to 11 km: pressure and temperature at sea level, fall of temperature, exponent. */
const SEA_LEVEL_HPA = 1013.25;
const SEA_LEVEL_K = 288.15;
const LAPSE_K_PER_M = 0.0065;
const EXPONENT = 5.25588;

/** 760 mmHg are one standard atmosphere. */
const HPA_PER_MMHG = 1013.25 / 760;

const PRESSURE_HPA: Range = { from: 500, to: 1060, unit: 'hPa', advice: 'if it is in mmHg, multiply by 1.33322' };
const PRESSURE_MMHG: Range = { from: 370, to: 800, unit: 'mmHg', advice: 'if it is in hPa, divide by 1.33322' };

/** West 1996, constants of the exponential, for kilometres and mmHg. */
const WEST = { constant: 6.63268, perKm: 0.1112, perKm2: 0.00149 } as const;

/** Oxygen in dry air as a fraction, and the pressure of water vapour in the airways at 37 °C, mmHg. */
const OXYGEN_FRACTION = 0.2093;
const AIRWAY_VAPOUR_MMHG = 47;

/**
 * Pressure of the standard atmosphere, hPa.
 * Source: ISO 2533:1975 and the ICAO standard atmosphere, the layer from 0 to 11 km, continued a little below sea level.
 * @param elevationM -430 to 5,600 m
 * @throws RangeError outside that
 */
export function standardPressureHpa(elevationM: number): number {
  within('elevation', elevationM, ELEVATION_M);
  return SEA_LEVEL_HPA * (1 - (LAPSE_K_PER_M * elevationM) / SEA_LEVEL_K) ** EXPONENT;
}

/**
 * The elevation at which the standard atmosphere has a pressure, m: the inverse of `standardPressureHpa`.
 * @param pressureHpa 500 to 1,060 hPa, which is 5,574 to -378 m
 * @throws RangeError outside that
 */
export function standardElevationM(pressureHpa: number): number {
  within('pressure', pressureHpa, PRESSURE_HPA);
  return (SEA_LEVEL_K / LAPSE_K_PER_M) * (1 - (pressureHpa / SEA_LEVEL_HPA) ** (1 / EXPONENT));
}

/** A pressure in mmHg, from hPa. @throws RangeError outside 500 to 1,060 hPa. */
export function mmHgOfHpa(pressureHpa: number): number {
  return within('pressure', pressureHpa, PRESSURE_HPA) / HPA_PER_MMHG;
}

/**
 * Pressure on real mountains, mmHg.
 * Source: West, J Appl Physiol 1996;81:1850, as its equation is given in published code; the journal's page was not read.
 * @param elevationM -430 to 5,600 m
 * @throws RangeError outside that
 */
export function mountainPressureMmHg(elevationM: number): number {
  const km = within('elevation', elevationM, ELEVATION_M) / 1000;
  return Math.exp(WEST.constant - WEST.perKm * km - WEST.perKm2 * km ** 2);
}

/**
 * Pressure of the oxygen in breathed-in air once it is moist and warm, mmHg, for someone without oxygen.
 * Source: the usual form (pressure - 47) x fraction; 0.2093 after West, from memory (others round it to 0.21).
 * @param pressureMmHg 370 to 800 mmHg
 * @throws RangeError outside that
 */
export function inspiredOxygenMmHg(pressureMmHg: number): number {
  return (within('pressure', pressureMmHg, PRESSURE_MMHG) - AIRWAY_VAPOUR_MMHG) * OXYGEN_FRACTION;
}
