import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { NOTE_HALVES_AFTER_DAYS, outletBeliefs, outletToTell } from '../../src/care/outlets.ts';
import type { OutletNote } from '../../src/care/outlets.ts';

const note = (place: string, worked: boolean, ageDays = 0): OutletNote => ({ place, worked, ageDays });
const told = (...notes: OutletNote[]): string | null => outletToTell(outletBeliefs(notes), 'other-wall');
const notes = fc.array(
  fc.record({
    place: fc.constantFrom('window', 'bed', 'other-wall'),
    worked: fc.boolean(),
    ageDays: fc.integer({ min: 0, max: 3000 }),
  }),
);

describe('what is thought of an outlet', () => {
  test('one fresh note is two to one, as Laplace has it; one against it leaves a half', () => {
    expect(outletBeliefs([note('window', true)])).toEqual([
      { place: 'window', worked: 1, failed: 0, ageDays: 0, sure: 2 / 3 },
    ]);
    expect(outletBeliefs([note('window', true), note('window', false, 3)])[0]).toMatchObject({ worked: 1, failed: 1 });
    expect(told(note('window', true), note('window', false))).toBeNull();
  });

  test('a contradiction ages out, and so does what nobody has confirmed', () => {
    const year = 2 * NOTE_HALVES_AFTER_DAYS;
    expect(told(note('window', false, year), note('window', true))).toBe('window');
    expect(told(note('window', true, year), note('window', false))).toBeNull();
    expect(told(note('window', true, NOTE_HALVES_AFTER_DAYS))).toBe('window');
    expect(told(note('window', true, year))).toBeNull();
  });

  test('the surest is told, and one with a name before one that is only on another wall', () => {
    expect(told(note('window', true), note('desk', true), note('desk', true))).toBe('desk');
    expect(told(note('other-wall', true), note('other-wall', true), note('desk', true))).toBe('desk');
    expect(told(note('other-wall', true), note('bed', false))).toBe('other-wall');
    expect(told()).toBeNull();
  });

  test('a note that it worked makes it surer, one that it did not less sure, whatever was known', () => {
    const sureOf = (all: readonly OutletNote[]) =>
      outletBeliefs(all).find(({ place }) => place === 'window')?.sure ?? 0.5;
    fc.assert(
      fc.property(notes, (known) => {
        expect(sureOf([...known, note('window', true)])).toBeGreaterThan(sureOf(known));
        expect(sureOf([...known, note('window', false)])).toBeLessThan(sureOf(known));
        expect(sureOf(known)).toBeGreaterThan(0);
        expect(sureOf(known)).toBeLessThan(1);
      }),
    );
  });

  test('a note of tomorrow is refused', () => {
    expect(() => outletBeliefs([note('window', true, -1)])).toThrow(/age: -1 is not within 0 to 36500 days/);
    expect(() => outletBeliefs([note('window', true, Number.NaN)])).toThrow(RangeError);
  });
});
