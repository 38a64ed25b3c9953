import psychrolib from 'psychrolib';
import { expect, test } from 'vitest';
import { LOWEST_EFFICIENCY, hoursToMinimumLine, waterMlPerHour } from '../../src/care/bottle-water.ts';
import { bottleHours, refillOutlook } from '../../src/care/refill.ts';
import { saturatedWaterMgPerL, saturationVapourPressureHpa } from '../../src/care/vapour.ts';

// The computed figures below were made with the vapour pressure of IAPWS, 0.3% above the WMO's at 22 °C, and rounded.
const ROUNDING = 0.008;
const apart = (ours: number, told: number): number => Math.abs(ours / told - 1);

// Source, read: the WMO's Magnus formula with Sonntag's coefficients, https://rdrr.io/pkg/bigleaf/man/Esat.slope.html ;
// the values computed from it.
test.for([
  [15, 17.017],
  [20, 23.326],
  [22, 26.374],
  [25, 31.601],
  [37, 62.653],
] as const)('WMO: vapour over water at %i °C is %f hPa', ([celsius, hPa]) => {
  expect(saturationVapourPressureHpa(celsius)).toBeCloseTo(hPa, 3);
});

// Second opinion: psychrolib, after Hyland and Wexler in ASHRAE Handbook - Fundamentals (2017), chapter 1, equation 6.
// The formulas are known to differ by 0.3% in this range.
test('psychrolib has the same vapour pressure within 0.3%', () => {
  psychrolib.SetUnitSystem(psychrolib.SI);
  for (let celsius = 1; celsius <= 50; celsius += 1) {
    const theirs = psychrolib.GetSatVapPres(celsius) / 100;
    expect(Math.abs(saturationVapourPressureHpa(celsius) / theirs - 1), `${celsius} °C`).toBeLessThan(0.003);
  }
});

// Source, read: humidity handbook values, https://medicalalgorithms.com/measured-and-relative-humidity-at-a-specified-temperature
// for 20 to 37 °C, and a dew point table, ru.scribd.com/doc/39380596/Dew-Point-Table, for 15 °C. The constant 216.679:
// https://docs.vaisala.com/r/M211280EN-D/en-US/GUID-6454B70E-2FB0-437D-8D3E-0DA8A5AD35D2
test.for([
  [15, 12.8],
  [20, 17.3],
  [22, 19.4],
  [25, 23.0],
  [37, 43.9],
] as const)('handbook: air at %i °C holds %f mg/L', ([celsius, mgPerL]) => {
  expect(Math.abs(saturatedWaterMgPerL(celsius) - mgPerL)).toBeLessThanOrEqual(0.13);
});

// Source, read: Respir Care 1982, four unheated bottles at 2 L/min (author Darin from memory), PMID 10315156,
// https://litmetric.com/detail/10315156/ : 17.2 to 20.4 mg/L with the chamber at 26.2 °C, which the paper also gives as
// 39.1 to 46.6% of what is held at 37 °C. As part of what is held at 26.2 °C, computed: 70 to 83%.
test('Respir Care 1982: 17.2 to 20.4 mg/L are 39.1 to 46.6% at 37 °C, and 70 to 83% of a full bottle', () => {
  const percentOf = (mgPerL: number, celsius: number): number => (100 * mgPerL) / saturatedWaterMgPerL(celsius);
  expect(Math.abs(percentOf(17.2, 37) - 39.1)).toBeLessThan(0.3);
  expect(Math.abs(percentOf(20.4, 37) - 46.6)).toBeLessThan(0.3);
  expect(Math.round(percentOf(17.2, 26.2))).toBe(70);
  expect(Math.round(percentOf(20.4, 26.2))).toBe(83);
  const carried = waterMlPerHour({ ambientLpm: 2, roomC: 26.2, efficiency: LOWEST_EFFICIENCY });
  expect(carried).toBeCloseTo((60 * 2 * 17.2) / 1000, 1);
});

// Source, read: Waugh and Granger 2004, Respir Care 49:902, abstract: 72.5 to 78.7% at 5 to 15 L/min, room 21 to 23 °C
// (that it is of the bubble type is from memory); computed: about 14.1 to 15.3 mg/L at 22 °C.
test('Waugh and Granger 2004: 72.5 to 78.7% at 22 °C are 14.1 to 15.3 mg/L', () => {
  const mgPerL = (efficiency: number): number => waterMlPerHour({ ambientLpm: 10, roomC: 22, efficiency }) / 0.6;
  expect(apart(mgPerL(0.725), 14.1)).toBeLessThan(ROUNDING);
  expect(apart(mgPerL(0.787), 15.3)).toBeLessThan(ROUNDING);
});

// Source, computed from the formula of the refill time: 300 mL usable, 10 L/min, 22 °C.
test('the worked refill: 11.65 mL/h, 25.7 h at the earliest, 35.5 h at 0.725, double at 5 L/min', () => {
  expect(apart(waterMlPerHour({ ambientLpm: 10, roomC: 22 }), 11.65)).toBeLessThan(ROUNDING);
  expect(apart(hoursToMinimumLine(300, { ambientLpm: 10, roomC: 22 }), 25.7)).toBeLessThan(ROUNDING);
  expect(apart(hoursToMinimumLine(300, { ambientLpm: 10, roomC: 22, efficiency: 0.725 }), 35.5)).toBeLessThan(ROUNDING);
  expect(apart(hoursToMinimumLine(300, { ambientLpm: 10, roomC: 22, efficiency: 0.755 }), 34.1)).toBeLessThan(ROUNDING);
  expect(apart(hoursToMinimumLine(300, { ambientLpm: 5, roomC: 22 }), 51.5)).toBeLessThan(ROUNDING);
});

// Source, computed from the same formula, at 10 L/min and saturation.
test.for([
  [15, 7.7, 26.0, 39.0],
  [20, 10.4, 19.3, 28.9],
  [22, 11.7, 17.2, 25.7],
  [25, 13.8, 14.5, 21.7],
] as const)('at %i °C, 10 L/min: %f mL/h; 200 mL last %f h, 300 mL %f h', ([roomC, perHour, of200, of300]) => {
  expect(apart(waterMlPerHour({ ambientLpm: 10, roomC }), perHour)).toBeLessThan(ROUNDING);
  expect(apart(hoursToMinimumLine(200, { ambientLpm: 10, roomC }), of200)).toBeLessThan(ROUNDING);
  expect(apart(hoursToMinimumLine(300, { ambientLpm: 10, roomC }), of300)).toBeLessThan(ROUNDING);
});

// Common practice of the trade, no source: 24 to 36 hours at high settings.
test('300 mL at 10 L/min and 22 °C agree with the 24 to 36 hours of the trade', () => {
  const trade = { earliest: 24, latest: 36 };
  const outlook = refillOutlook(bottleHours(300, { ambientLpm: 10, roomC: 22 }), trade);
  expect(outlook).toMatchObject({ agree: true, remindAfterHours: 24, trade });
});
