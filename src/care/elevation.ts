import type { Range } from './range.ts';

/**
 * Where a unit may stand, metres above sea level: from the lowest shore on land to just above the 500 hPa level, the
 * highest row of the 1964 ICAO table that the pressures are checked against, and higher than people live (about 5,100 m,
 * from memory). An elevation of a resort given in feet (above 5,600 ft) falls outside; a lower one cannot be told apart.
 */
export const ELEVATION_M: Range = {
  from: -430,
  to: 5600,
  unit: 'm',
  advice: 'if it is in feet, multiply by 0.3048',
};
