import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  ambientOfReadingLpm,
  ambientOfStandardLpm,
  standardOfAmbientLpm,
  standardOfReadingLpm,
} from '../../src/care/flow-at-elevation.ts';

const elevation = fc.integer({ min: 1, max: 5600 });
const setting = fc.double({ min: 0.1, max: 15, noNaN: true });

test('at sea level every litre is the same litre', () => {
  for (const convert of [ambientOfReadingLpm, ambientOfStandardLpm, standardOfAmbientLpm, standardOfReadingLpm]) {
    expect(convert(10, 0), convert.name).toBe(10);
  }
});

test('up a mountain a tube passes more ambient and fewer standard litres than it reads', () => {
  fc.assert(
    fc.property(setting, elevation, (reading, metres) => {
      expect(ambientOfReadingLpm(reading, metres)).toBeGreaterThan(reading);
      expect(standardOfReadingLpm(reading, metres)).toBeLessThan(reading);
    }),
  );
});

test('the two ways to the ambient litres that a reading passes agree', () => {
  fc.assert(
    fc.property(setting, elevation, (reading, metres) => {
      const direct = ambientOfReadingLpm(reading, metres);
      expect(ambientOfStandardLpm(standardOfReadingLpm(reading, metres), metres)).toBeCloseTo(direct, 9);
    }),
  );
});

test('standard litres come back from ambient litres, up to the highest setting and elevation', () => {
  fc.assert(
    fc.property(setting, elevation, (litres, metres) => {
      expect(standardOfAmbientLpm(ambientOfStandardLpm(litres, metres), metres)).toBeCloseTo(litres, 9);
    }),
  );
  expect(standardOfAmbientLpm(ambientOfStandardLpm(15, 5600), 5600)).toBeCloseTo(15, 9);
});

test('a negative setting, one above any tube, and an elevation in feet are refused', () => {
  for (const convert of [ambientOfReadingLpm, ambientOfStandardLpm, standardOfAmbientLpm, standardOfReadingLpm]) {
    expect(() => convert(-1, 3000), convert.name).toThrow(/: -1 is not within 0 to \d+ L\/min/);
    expect(() => convert(40, 3000), convert.name).toThrow(RangeError);
    expect(() => convert(5, 9600), convert.name).toThrow('elevation: 9600 is not within -430 to 5600 m');
  }
});
