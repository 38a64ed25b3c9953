import { within } from './range.ts';
import type { Range } from './range.ts';

/** What air in a room or a bottle can be; the formula itself holds from -45 to 60 °C (from memory). */
const TEMPERATURE_C: Range = { from: 0, to: 50, unit: '°C', advice: 'if it is in °F, subtract 32 and multiply by 5/9' };

/** 100,000 over the gas constant of water vapour, 461.51 J/(kg K): from hPa and kelvin to g/m³. */
const MG_KELVIN_PER_L_HPA = 216.679;
const ZERO_CELSIUS_K = 273.15;

/**
 * Pressure of water vapour over water when the air holds all it can, hPa.
 * Source: the Magnus formula with Sonntag's coefficients, as the WMO recommends it.
 * @param temperatureC 0 to 50 °C
 * @throws RangeError outside that
 */
export function saturationVapourPressureHpa(temperatureC: number): number {
  within('temperature', temperatureC, TEMPERATURE_C);
  return 6.112 * Math.exp((17.62 * temperatureC) / (243.12 + temperatureC));
}

/**
 * Water in a litre of gas that holds all it can, mg/L (the same as g/m³). A litre as it passes: it hardly depends on pressure.
 * Source: the gas law, with the vapour pressure above.
 * @param temperatureC 0 to 50 °C
 * @throws RangeError outside that
 */
export function saturatedWaterMgPerL(temperatureC: number): number {
  return (MG_KELVIN_PER_L_HPA * saturationVapourPressureHpa(temperatureC)) / (temperatureC + ZERO_CELSIUS_K);
}
