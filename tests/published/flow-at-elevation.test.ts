import { expect, test } from 'vitest';
import { ambientOfReadingLpm, ambientOfStandardLpm, standardOfReadingLpm } from '../../src/care/flow-at-elevation.ts';

// Source, computed from the standard atmosphere (ISO 2533): P0/P, its root, and the inverse of the root. Physics of a flow
// tube open to the room; no bench measurement at elevation was found.
test.for([
  [2000, 1.275, 1.13, 0.886],
  [2500, 1.357, 1.16, 0.859],
  [3000, 1.445, 1.2, 0.832],
  [3500, 1.541, 1.24, 0.806],
] as const)(
  'at %i m a standard litre is %f litres; a tube marked 1 passes %f ambient or %f standard litres',
  ([metres, ambient, passes, standard]) => {
    expect(ambientOfStandardLpm(1, metres)).toBeCloseTo(ambient, 3);
    expect(ambientOfReadingLpm(1, metres)).toBeCloseTo(passes, 2);
    expect(standardOfReadingLpm(1, metres)).toBeCloseTo(standard, 2);
  },
);
