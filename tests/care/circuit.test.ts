import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { circuitLoad } from '../../src/care/circuit.ts';

const watts = fc.integer({ min: 1, max: 5000 });

test('one more load never eases a circuit', () => {
  const order = ['fits', 'overloaded', 'trips'];
  fc.assert(
    fc.property(fc.array(watts, { maxLength: 6 }), watts, (loads, more) => {
      const [before, after] = [circuitLoad(loads), circuitLoad([...loads, more])];
      expect(after.amps).toBeGreaterThan(before.amps);
      expect(order.indexOf(after.verdict)).toBeGreaterThanOrEqual(order.indexOf(before.verdict));
    }),
  );
});

test('a breaker is held to its rating, and all night to four fifths of it', () => {
  const circuit = { breakerA: 20, volts: 120 };
  expect(circuitLoad([1920], circuit).verdict).toBe('fits');
  expect(circuitLoad([1921], circuit).verdict).toBe('overloaded');
  expect(circuitLoad([2400], circuit).verdict).toBe('overloaded');
  expect(circuitLoad([2401], circuit).verdict).toBe('trips');
});

test('an empty circuit draws nothing', () => {
  expect(circuitLoad([])).toMatchObject({ amps: 0, verdict: 'fits' });
});

test('a load, breaker or supply that cannot be is refused', () => {
  expect(() => circuitLoad([600, 0])).toThrow('load: 0 is not within 1 to 5000 W; if it is in amperes');
  expect(() => circuitLoad([-600])).toThrow(RangeError);
  expect(() => circuitLoad([600], { breakerA: 0, volts: 120 })).toThrow('breaker: 0 is not within 5 to 60 A');
  expect(() => circuitLoad([600], { breakerA: 15, volts: 12 })).toThrow('supply: 12 is not within 100 to 240 V');
});
