import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { judgeFailures } from '../../src/care/failing.ts';
import { holm, rateTest } from '../../src/care/rate-test.ts';
import { uChart } from '../../src/care/u-chart.ts';

const unit = (name: string, faults: number, rentalDays: number) => ({ name, faults, rentalDays });
/** Fifty-nine units that fail once in fifty days. */
const FLEET = Array.from({ length: 59 }, (_, index) => unit(`U-${index}`, index % 2, 25));
const verdictOf = (name: string, all: Parameters<typeof judgeFailures>[0]) =>
  judgeFailures(all).find((each) => each.name === name)?.verdict;

describe('units that fail too often', () => {
  test('the one that does is pulled with its counts, and nobody else', () => {
    const judged = judgeFailures([...FLEET, unit('BAD', 8, 25)]);
    expect(judged[0]).toMatchObject({ name: 'BAD', faults: 8, rentalDays: 25, verdict: 'pull' });
    expect(judged[0]?.othersDaysAFault).toBeCloseTo((59 * 25) / 29, 6);
    expect(judged.slice(1).every(({ verdict }) => verdict === 'fine')).toBe(true);
  });

  test('never on two faults alone, however unlikely', () => {
    const quiet = FLEET.map((each) => ({ ...each, faults: 0 }));
    expect(verdictOf('BAD', [...quiet, unit('BAD', 2, 1)])).toBe('fine');
    expect(verdictOf('BAD', [...quiet, unit('BAD', 3, 1)])).toBe('pull');
  });

  test('what would be too often for one alone is watched among sixty', () => {
    expect(verdictOf('ODD', [unit('U', 1, 50), unit('ODD', 7, 50)])).toBe('watch');
    expect(verdictOf('ODD', [...FLEET, unit('ODD', 3, 25)])).toBe('watch');
  });

  test('where only one was rented, or nobody had a fault, nothing is said', () => {
    expect(judgeFailures([unit('ALONE', 9, 9), unit('SHELVED', 0, 0)])).toMatchObject([
      { name: 'ALONE', chance: 1, verdict: 'fine', othersDaysAFault: null },
    ]);
    expect(judgeFailures(FLEET.map((each) => ({ ...each, faults: 0 }))).every(({ raised }) => raised === 1)).toBe(true);
    expect(judgeFailures([])).toEqual([]);
  });
});

describe('the test of a rate', () => {
  const count = fc.integer({ min: 0, max: 60 });
  const days = fc.integer({ min: 1, max: 900 });

  test('more faults make it less likely, more days likelier', () => {
    fc.assert(
      fc.property(count, days, count, days, (events, exposure, otherEvents, otherExposure) => {
        const rest = { events: otherEvents, exposure: otherExposure };
        const chance = rateTest({ events, exposure }, rest);
        expect(chance).toBeGreaterThanOrEqual(0);
        expect(chance).toBeLessThanOrEqual(1);
        expect(rateTest({ events: events + 1, exposure }, rest)).toBeLessThanOrEqual(chance + 1e-12);
        expect(rateTest({ events, exposure: exposure + 1 }, rest)).toBeGreaterThanOrEqual(chance - 1e-12);
      }),
    );
  });

  test('a correction never lowers a chance, keeps their order, and leaves one alone as it is', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true })), (chances) => {
        const raised = holm(chances);
        for (const [index, chance] of chances.entries()) {
          expect(raised[index]).toBeGreaterThanOrEqual(chance);
          for (const [other, than] of chances.entries()) {
            if (chance < than) expect(raised[index]).toBeLessThanOrEqual(raised[other] ?? 0);
          }
        }
      }),
    );
    expect(holm([0.04])).toEqual([0.04]);
  });

  test('what is no count or no time is refused with its range', () => {
    const rest = { events: 3, exposure: 100 };
    expect(() => rateTest({ events: -1, exposure: 5 }, rest)).toThrow(/events: -1 is not within 0 to 1000000/);
    expect(() => rateTest({ events: 1.5, exposure: 5 }, rest)).toThrow(/count them, whole/);
    expect(() => rateTest({ events: 1, exposure: 0 }, rest)).toThrow(/exposure: 0 is not within/);
    expect(() => holm([1.2])).toThrow(RangeError);
    expect(() => uChart([{ events: -1, exposure: 3 }])).toThrow(/events: -1/);
  });
});

test('a week without rentals has no rate; one far from the others stands out to its side', () => {
  const week = (events: number, exposure: number) => ({ events, exposure });
  const { centre, points } = uChart([week(10, 100), week(0, 0), week(45, 100), week(11, 100), week(0, 100)]);
  expect(centre).toBe(66 / 400);
  expect(points.map(({ rate, beyond }) => [rate, beyond])).toEqual([
    [0.1, null],
    [null, null],
    [0.45, 'above'],
    [0.11, null],
    [0, 'below'],
  ]);
  expect(uChart([week(0, 0)])).toMatchObject({ centre: null });
});
