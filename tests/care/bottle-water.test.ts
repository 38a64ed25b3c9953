import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { LOWEST_EFFICIENCY, hoursToMinimumLine, waterMlPerHour } from '../../src/care/bottle-water.ts';
import { ambientOfStandardLpm } from '../../src/care/flow-at-elevation.ts';
import { bottleHours, refillOutlook } from '../../src/care/refill.ts';
import { saturatedWaterMgPerL, saturationVapourPressureHpa } from '../../src/care/vapour.ts';

const usable = fc.integer({ min: 10, max: 2000 });
const flowRate = fc.double({ min: 0.1, max: 32, noNaN: true });
const room = fc.integer({ min: 0, max: 50 });
const efficiency = fc.double({ min: 0.05, max: 1, noNaN: true });

test('warmer air holds more water', () => {
  fc.assert(
    fc.property(room, room, (one, other) => {
      fc.pre(one < other);
      expect(saturationVapourPressureHpa(one)).toBeLessThan(saturationVapourPressureHpa(other));
      expect(saturatedWaterMgPerL(one)).toBeLessThan(saturatedWaterMgPerL(other));
    }),
  );
});

test('more flow, a warmer room and better bubbling each empty the bottle sooner; more water later', () => {
  fc.assert(
    fc.property(usable, flowRate, fc.integer({ min: 0, max: 49 }), efficiency, (ml, lpm, roomC, eta) => {
      const hours = (
        change: { ml?: number; ambientLpm?: number; roomC?: number; efficiency?: number } = {},
      ): number => {
        const { ml: water = ml, ...bubbling } = change;
        return hoursToMinimumLine(water, { ambientLpm: lpm, roomC, efficiency: eta, ...bubbling });
      };
      fc.pre(lpm < 31 && eta < 0.99 && ml < 2000);
      expect(hours({ ambientLpm: lpm + 1 })).toBeLessThan(hours());
      expect(hours({ roomC: roomC + 1 })).toBeLessThan(hours());
      expect(hours({ efficiency: eta + 0.01 })).toBeLessThan(hours());
      expect(hours({ ml: ml + 1 })).toBeGreaterThan(hours());
    }),
  );
});

test('what is carried away in the hours told is the usable water', () => {
  fc.assert(
    fc.property(usable, flowRate, room, efficiency, (ml, ambientLpm, roomC, eta) => {
      const bubbling = { ambientLpm, roomC, efficiency: eta };
      expect(hoursToMinimumLine(ml, bubbling) * waterMlPerHour(bubbling)).toBeCloseTo(ml, 6);
    }),
  );
});

test('without a word on efficiency the hours are the earliest of all, and the latest at the lowest measured', () => {
  fc.assert(
    fc.property(usable, flowRate, room, efficiency, (ml, ambientLpm, roomC, eta) => {
      const unsaid = hoursToMinimumLine(ml, { ambientLpm, roomC });
      expect(unsaid).toBeLessThanOrEqual(hoursToMinimumLine(ml, { ambientLpm, roomC, efficiency: eta }));
      const range = bottleHours(ml, { ambientLpm, roomC });
      expect(range.earliest).toBe(unsaid);
      expect(range.latest).toBe(hoursToMinimumLine(ml, { ambientLpm, roomC, efficiency: LOWEST_EFFICIENCY }));
    }),
  );
});

test('nothing flows, nothing is carried away, and no hour is told', () => {
  expect(waterMlPerHour({ ambientLpm: 0, roomC: 22 })).toBe(0);
  expect(() => hoursToMinimumLine(300, { ambientLpm: 0, roomC: 22 })).toThrow(
    'ambient flow rate: 0 is not within 0.1 to 32 L/min',
  );
});

test('a bottle of zero, a negative setting, a room in Fahrenheit and percent are refused', () => {
  const bubbling = { ambientLpm: 10, roomC: 22 };
  expect(() => hoursToMinimumLine(0, bubbling)).toThrow(
    new RangeError('usable water: 0 is not within 10 to 2000 mL; measure from the upper line to the lower one'),
  );
  expect(() => waterMlPerHour({ ...bubbling, ambientLpm: -2 })).toThrow('ambient flow rate: -2 is not within');
  expect(() => waterMlPerHour({ ...bubbling, roomC: 72 })).toThrow('temperature: 72 is not within 0 to 50 °C; if it');
  expect(() => waterMlPerHour({ ...bubbling, efficiency: 75 })).toThrow('give a fraction, not percent');
  expect(() => waterMlPerHour({ ...bubbling, efficiency: 0 })).toThrow(RangeError);
});

test('where the trade and the arithmetic disagree both are shown, and the reminder is the earlier', () => {
  const trade = { earliest: 24, latest: 36 };
  const up = ambientOfStandardLpm(10, 3000);
  const sooner = refillOutlook(bottleHours(300, { ambientLpm: up, roomC: 22 }), trade);
  expect(sooner).toMatchObject({ agree: false, trade });
  expect(sooner.remindAfterHours).toBe(sooner.computed.earliest);
  expect(sooner.remindAfterHours).toBeCloseTo(17.87, 2);

  const later = refillOutlook(bottleHours(300, { ambientLpm: 5, roomC: 22 }), trade);
  expect(later).toMatchObject({ agree: false, remindAfterHours: 24 });
  expect(later.computed.earliest).toBeGreaterThan(trade.latest);
});

test('the reminder is never later than either', () => {
  const hours = fc
    .tuple(fc.double({ min: 1, max: 500, noNaN: true }), fc.double({ min: 1, max: 2, noNaN: true }))
    .map(([earliest, stretch]) => ({ earliest, latest: earliest * stretch }));
  fc.assert(
    fc.property(hours, hours, (computed, trade) => {
      const { remindAfterHours } = refillOutlook(computed, trade);
      expect(remindAfterHours).toBeLessThanOrEqual(computed.earliest);
      expect(remindAfterHours).toBeLessThanOrEqual(trade.earliest);
    }),
  );
});

test('hours of the trade in the wrong order, or none, are refused', () => {
  const computed = { earliest: 20, latest: 30 };
  expect(() => refillOutlook(computed, { earliest: 36, latest: 24 })).toThrow(
    'latest trade hour: 24 is not within 36 to 1000 h; give the earliest hour first',
  );
  expect(() => refillOutlook(computed, { earliest: 0, latest: 24 })).toThrow('earliest trade hour: 0 is not within');
});
