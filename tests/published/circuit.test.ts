import { expect, test } from 'vitest';
import { circuitLoad } from '../../src/care/circuit.ts';

// Source, from memory: NEC 210.20(A), 80% of a breaker for what runs three hours or more: 12 A and 1,440 W of 15 A at 120 V.
test('NEC: 15 A at 120 V carry 12 A, or 1,440 W, all night', () => {
  expect(circuitLoad([]).continuousA).toBe(12);
  expect(circuitLoad([1440]).verdict).toBe('fits');
  expect(circuitLoad([1441]).verdict).toBe('overloaded');
});

// Source, read: a typical unit of 10 L/min draws about 600 W (an energy workshop's summary of 2021,
// https://github.com/creativenergie/oxygen-colab ), computed 5.0 A; the WHO's 70 W per L/min is from memory, computed 5.8 A.
test('one unit of 600 W draws 5.0 A, one of 700 W 5.8 A', () => {
  expect(circuitLoad([600]).amps).toBe(5);
  expect(circuitLoad([700]).amps).toBeCloseTo(5.8, 1);
});

// Source, computed from the two above, with a space heater of 1,500 W.
test('two units fit; with a heater of 1,500 W they trip the breaker', () => {
  expect(circuitLoad([600, 600])).toEqual({ amps: 10, continuousA: 12, verdict: 'fits' });
  expect(circuitLoad([600, 600, 1500])).toEqual({ amps: 22.5, continuousA: 12, verdict: 'trips' });
});
