import binomialCdf from '@stdlib/stats-base-dists-binomial-cdf';
import poissonCdf from '@stdlib/stats-base-dists-poisson-cdf';
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { holm, rateTest } from '../../src/care/rate-test.ts';
import { uChart } from '../../src/care/u-chart.ts';

const count = fc.integer({ min: 0, max: 120 });
const days = fc.integer({ min: 1, max: 5000 });

describe('the exact Poisson test, against stdlib (stdlib.io, checked there against Julia and R)', () => {
  test('is the upper tail of the binomial that stdlib has', () => {
    fc.assert(
      fc.property(count, days, count, days, (events, exposure, otherEvents, otherExposure) => {
        const p = exposure / (exposure + otherExposure);
        const theirs = 1 - binomialCdf(events - 1, events + otherEvents, p);
        const ours = rateTest({ events, exposure }, { events: otherEvents, exposure: otherExposure });
        expect(Math.abs(ours - (events === 0 ? 1 : theirs))).toBeLessThan(1e-9);
      }),
    );
  });

  test('comes to the Poisson tail of stdlib where the rest is a very large fleet', () => {
    const rest = { events: 100_000, exposure: 2_000_000 };
    for (const [events, exposure] of [
      [3, 20],
      [7, 40],
      [1, 100],
    ] as const) {
      const theirs = 1 - poissonCdf(events - 1, exposure * 0.05);
      expect(rateTest({ events, exposure }, rest) / theirs).toBeCloseTo(1, 2);
    }
  });
});

describe('the exact Poisson test, against a published worked example', () => {
  // R, help of poisson.test: lung cancer in Fredericia against three other cities, ages 55 to 59 (ISwR, eba1977):
  // poisson.test(c(11, 6+8+7), c(800, 1083+1050+878)). R's printed result, as quoted in a public repository: p 0.07967,
  // expected count 6.7174, rate ratio 1.971488. R's p has two sides: all counts no likelier than the one seen.
  const [fredericia, others] = [
    { events: 11, exposure: 800 },
    { events: 21, exposure: 3011 },
  ];

  test('both sides together are R’s 0.07967', () => {
    const total = fredericia.events + others.events;
    const upFrom = (events: number): number =>
      events > total
        ? 0
        : rateTest({ events, exposure: fredericia.exposure }, { events: total - events, exposure: others.exposure });
    const exactly = (events: number): number => upFrom(events) - upFrom(events + 1);
    const seen = exactly(fredericia.events);
    const twoSided = Array.from({ length: total + 1 }, (_, events) => exactly(events))
      .filter((each) => each <= seen * (1 + 1e-7))
      .reduce((sum, each) => sum + each, 0);
    expect(twoSided).toBeCloseTo(0.07967, 5);
    expect((total * fredericia.exposure) / (fredericia.exposure + others.exposure)).toBeCloseTo(6.7174, 4);
  });

  test('the side that is used here is part of it', () => {
    expect(rateTest(fredericia, others)).toBeGreaterThan(0.04);
    expect(rateTest(fredericia, others)).toBeLessThan(0.07967);
  });
});

test('Holm’s correction, the worked example of the article "Holm-Bonferroni method" (Wikipedia; from memory)', () => {
  // p1 0.01, p2 0.04, p3 0.03, p4 0.005 at 0.05: the first and the fourth are found, the others are not.
  const raised = holm([0.01, 0.04, 0.03, 0.005]);
  expect(raised.map((each) => Number(each.toFixed(6)))).toEqual([0.03, 0.06, 0.06, 0.02]);
  expect(raised.map((each) => each < 0.05)).toEqual([true, false, false, true]);
});

describe('the u chart', () => {
  test('rates of Besterfield, Quality Control 1990, p. 185, as printed on isixsigma.com', () => {
    const printed: readonly (readonly [number, number, number])[] = [
      [110, 120, 1.0909],
      [82, 94, 1.1463],
      [96, 89, 0.9271],
      [115, 162, 1.4087],
      [108, 150, 1.3889],
      [56, 82, 1.4643],
      [120, 143, 1.1917],
      [98, 134, 1.3673],
    ];
    const { points } = uChart(printed.map(([exposure, events]) => ({ exposure, events })));
    for (const [index, [, , rate]] of printed.entries()) expect(points[index]?.rate).toBeCloseTo(rate, 4);
  });

  test('limits of Montgomery’s dyed cloth, Introduction to Statistical Quality Control (from memory)', () => {
    const events = [14, 12, 20, 11, 7, 10, 21, 16, 19, 23];
    const exposure = [10, 8, 13, 10, 9.5, 10, 12, 10.5, 12, 12.5];
    const { centre, points } = uChart(events.map((each, index) => ({ events: each, exposure: exposure[index] ?? 0 })));
    expect(centre).toBeCloseTo(1.42, 2);
    // Ten inspection units: 0.29 to 2.55; eight: 0.16 to 2.68; thirteen: 0.43 to 2.41.
    const limits = points.map(({ lower, upper }) => [lower, upper]);
    for (const [index, lower, upper] of [
      [0, 0.29, 2.55],
      [1, 0.16, 2.68],
      [2, 0.43, 2.41],
    ] as const) {
      expect(Math.abs((limits[index]?.[0] ?? 0) - lower)).toBeLessThan(0.011);
      expect(Math.abs((limits[index]?.[1] ?? 0) - upper)).toBeLessThan(0.011);
    }
    expect(points.every(({ beyond }) => beyond === null)).toBe(true);
  });
});
