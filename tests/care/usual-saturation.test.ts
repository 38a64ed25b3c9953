import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { againstUsual, usualSaturation } from '../../src/care/usual-saturation.ts';

const elevation = fc.integer({ min: 0, max: 4000 });

test('higher up the usual range never rises, at either end, and what rounding may do to it grows', () => {
  fc.assert(
    fc.property(elevation, elevation, (one, other) => {
      fc.pre(one < other);
      const [lower, higher] = [usualSaturation(one), usualSaturation(other)];
      expect(higher.fromPct).toBeLessThanOrEqual(lower.fromPct);
      expect(higher.toPct).toBeLessThanOrEqual(lower.toPct);
      expect(higher.arrivedMayBeOffPoints).toBeGreaterThan(lower.arrivedMayBeOffPoints);
      expect(higher.acclimatisedMayBeOffPoints).toBeGreaterThan(lower.acclimatisedMayBeOffPoints);
    }),
  );
});

test('the range is in order, in whole percent, and within 0 to 100', () => {
  fc.assert(
    fc.property(elevation, (metres) => {
      const { fromPct, toPct } = usualSaturation(metres);
      expect(Number.isInteger(fromPct) && Number.isInteger(toPct)).toBe(true);
      expect(fromPct).toBeGreaterThan(70);
      expect(fromPct).toBeLessThan(toPct);
      expect(toPct).toBeLessThanOrEqual(100);
    }),
  );
});

test('a reading is below, usual or above for the elevation, the ends being usual', () => {
  expect(usualSaturation(3000)).toMatchObject({ fromPct: 89, toPct: 95 });
  expect([88, 89, 95, 96].map((reading) => againstUsual(reading, 3000))).toEqual(['below', 'usual', 'usual', 'above']);
});

test('a saturation of 200% and an elevation in feet are refused', () => {
  expect(() => againstUsual(200, 3000)).toThrow(
    new RangeError('saturation: 200 is not within 1 to 100 %; take the saturation, not the pulse'),
  );
  expect(() => againstUsual(0, 3000)).toThrow(RangeError);
  expect(() => usualSaturation(9600)).toThrow('elevation: 9600 is not within 0 to 4000 m');
  expect(() => usualSaturation(-1)).toThrow(RangeError);
});
