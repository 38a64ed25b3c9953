import psychrolib from 'psychrolib';
import { expect, test } from 'vitest';
import {
  inspiredOxygenMmHg,
  mmHgOfHpa,
  mountainPressureMmHg,
  standardElevationM,
  standardPressureHpa,
} from '../../src/care/pressure.ts';

// Source, read: ICAO standard atmosphere of 1964, pressure and height in whole metres,
// http://www.airlinedispatch.com/dispatch/isa.html
test.for([
  [1000, 111],
  [900, 988],
  [850, 1457],
  [800, 1949],
  [700, 3012],
  [600, 4206],
  [500, 5574],
] as const)('ICAO 1964: %i hPa at %i m, both ways', ([hPa, metres]) => {
  expect(Math.abs(standardPressureHpa(metres) - hPa)).toBeLessThan(0.07);
  expect(Math.abs(standardElevationM(hPa) - metres)).toBeLessThan(0.6);
});

// Source, read: constants of ISO 2533, https://jcoppens.com/globo/teoria/atm_est.en.php : 1013.25 hPa at sea level.
test('ISO 2533: sea level is 1013.25 hPa, which is 760 mmHg', () => {
  expect(standardPressureHpa(0)).toBe(1013.25);
  expect(mmHgOfHpa(standardPressureHpa(0))).toBe(760);
  expect(standardElevationM(1013.25)).toBe(0);
});

// Second opinion: psychrolib, after ASHRAE Handbook - Fundamentals (2017), chapter 1, equation 3. Its constants are rounded
// otherwise (2.25577e-5, 5.2559), which is 0.01 hPa at most here.
test('psychrolib has the same standard atmosphere', () => {
  psychrolib.SetUnitSystem(psychrolib.SI);
  for (let metres = -400; metres <= 5600; metres += 100) {
    const theirs = psychrolib.GetStandardAtmPressure(metres) / 100;
    expect(Math.abs(standardPressureHpa(metres) - theirs), `${metres} m`).toBeLessThan(0.01);
  }
});

// Source, read: spot values in mmHg, https://fpnotebook.com/ER/Environ/HghAltdRltdCndtns.htm . The page does not name West,
// but his equation gives its values to the nearest mmHg. The equation itself: J Appl Physiol 1996;81:1850, read only as
// quoted in published code.
test.for([
  [0, 760],
  [1500, 641],
  [2000, 604],
  [2500, 570],
  [3000, 537],
  [3500, 505],
  [4000, 475],
  [4500, 447],
  [5000, 420],
] as const)('West 1996: %i m is %i mmHg on a mountain', ([metres, mmHg]) => {
  expect(Math.abs(mountainPressureMmHg(metres) - mmHg)).toBeLessThanOrEqual(0.5);
});

// Source, computed: West's model and the standard atmosphere are said to be 11 mmHg apart at 3,000 m.
test('the two models disagree by 11 mmHg at 3,000 m', () => {
  expect(Math.round(mountainPressureMmHg(3000) - mmHgOfHpa(standardPressureHpa(3000)))).toBe(11);
});

// Source, computed from the form (pressure - 47) x fraction (read, fpnotebook above); 0.2093 from memory, West.
test.for([
  [0, 149.2, 149.1],
  [1000, 131.3, 132.2],
  [2000, 115.0, 116.7],
  [2500, 107.4, 109.4],
  [3000, 100.2, 102.5],
  [3500, 93.4, 95.9],
  [4000, 86.9, 89.7],
] as const)('inspired oxygen at %i m is %f mmHg (standard) and %f mmHg (West)', ([metres, standard, west]) => {
  expect(inspiredOxygenMmHg(mmHgOfHpa(standardPressureHpa(metres)))).toBeCloseTo(standard, 1);
  expect(inspiredOxygenMmHg(mountainPressureMmHg(metres))).toBeCloseTo(west, 1);
});

// Source, read: CDC Yellow Book 2024 (Hackett, Shlim): inspired oxygen at 10,000 ft is 69% of that at sea level.
// Address as read: http://wwwnc.cdc.gov/travel/yellowbook/2014/chapter-2-the-pre-travel-consultation/for-the-record-a-history-of-the-definition-and-management-of-altitude-illness
// Both ways of reckoning come within a point: 68.8% by dry pressure, 68.3% with West and moist air.
test('CDC: about 69% of the oxygen is left at 10,000 ft', () => {
  const metres = 10_000 * 0.3048;
  const dry = standardPressureHpa(metres) / standardPressureHpa(0);
  const moist = inspiredOxygenMmHg(mountainPressureMmHg(metres)) / inspiredOxygenMmHg(mountainPressureMmHg(0));
  expect(Math.round(100 * dry)).toBe(69);
  expect(Math.abs(100 * moist - 69)).toBeLessThan(1);
});
