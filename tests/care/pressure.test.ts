import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  inspiredOxygenMmHg,
  mmHgOfHpa,
  mountainPressureMmHg,
  standardElevationM,
  standardPressureHpa,
} from '../../src/care/pressure.ts';

const elevation = fc.integer({ min: -430, max: 5600 });
const pressure = fc.double({ min: 500, max: 1060, noNaN: true });

test('higher up there is less pressure and less oxygen, in both models', () => {
  fc.assert(
    fc.property(elevation, elevation, (one, other) => {
      fc.pre(one < other);
      expect(standardPressureHpa(one)).toBeGreaterThan(standardPressureHpa(other));
      expect(mountainPressureMmHg(one)).toBeGreaterThan(mountainPressureMmHg(other));
      expect(inspiredOxygenMmHg(mountainPressureMmHg(one))).toBeGreaterThan(
        inspiredOxygenMmHg(mountainPressureMmHg(other)),
      );
    }),
  );
});

test('an elevation comes back from its pressure, and a pressure from its elevation', () => {
  fc.assert(
    fc.property(fc.integer({ min: -370, max: 5570 }), (metres) => {
      expect(standardElevationM(standardPressureHpa(metres))).toBeCloseTo(metres, 6);
    }),
  );
  fc.assert(
    fc.property(pressure, (hPa) => {
      expect(standardPressureHpa(standardElevationM(hPa))).toBeCloseTo(hPa, 6);
    }),
  );
});

test('feet given as metres are refused, with what came, the range and what to do', () => {
  const said = 'elevation: 9600 is not within -430 to 5600 m; if it is in feet, multiply by 0.3048';
  expect(() => standardPressureHpa(9600)).toThrow(new RangeError(said));
  expect(() => mountainPressureMmHg(9600)).toThrow(new RangeError(said));
});

test('the ends of the range are taken, what is beyond them and what is no number is not', () => {
  expect(standardPressureHpa(-430)).toBeGreaterThan(1013.25);
  expect(standardPressureHpa(5600)).toBeGreaterThan(0);
  for (const wrong of [-431, 5601, Number.NaN, Infinity]) {
    expect(() => standardPressureHpa(wrong), `${wrong}`).toThrow(RangeError);
  }
});

test('one unit of pressure given as the other is refused', () => {
  expect(() => inspiredOxygenMmHg(1013.25)).toThrow('pressure: 1013.25 is not within 370 to 800 mmHg');
  expect(() => standardElevationM(420)).toThrow('if it is in mmHg, multiply by 1.33322');
  expect(() => mmHgOfHpa(0)).toThrow(RangeError);
});
