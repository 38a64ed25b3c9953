import { describe, expect, test } from 'vitest';
import { after, instantOf, instantOfMs, msOf, nextLocalHour, wallClock } from '../../src/time/instant.ts';

const DENVER = 'America/Denver';

describe('an instant', () => {
  test('has one shape, whatever zone and precision it was written in', () => {
    const same = ['2026-11-25T09:10:00Z', '2026-11-25T02:10:00-07:00', '2026-11-25T02:10-07:00[America/Denver]'];
    expect(same.map(instantOf)).toEqual(same.map(() => '2026-11-25T09:10:00.000Z'));
    expect(instantOf('2026-11-25T09:10:00.1239Z')).toBe('2026-11-25T09:10:00.123Z');
  });

  test('sorts as a plain string', () => {
    const written = ['2026-11-25T09:10:00.01Z', '2026-11-25T09:10:00Z', '2026-11-25T03:09:59-06:00'];
    expect(written.map(instantOf).toSorted()).toEqual([
      '2026-11-25T09:09:59.000Z',
      '2026-11-25T09:10:00.000Z',
      '2026-11-25T09:10:00.010Z',
    ]);
  });

  test('goes to milliseconds and back', () => {
    expect(msOf(instantOfMs(1_795_597_800_123))).toBe(1_795_597_800_123);
    expect(instantOfMs(0)).toBe('1970-01-01T00:00:00.000Z');
  });

  test.for(['2026-11-25T09:10:00', '2026-11-25', 'tonight', ''])(
    'is not read from "%s", which names no instant',
    (text) => {
      expect(() => instantOf(text)).toThrow(RangeError);
    },
  );
});

describe('a time after', () => {
  test('counts hours as they pass, also over the night when clocks go back', () => {
    const before = instantOf('2026-11-01T00:30:00-06:00');
    expect(after(before, 'PT4H')).toBe(instantOf('2026-11-01T03:30:00-07:00'));
    expect(after(before, '-PT30M')).toBe(instantOf('2026-11-01T00:00:00-06:00'));
  });

  test.for(['P1D', 'P1W', 'four hours'])('%s is refused: it has no fixed length', (duration) => {
    expect(() => after(instantOf('2026-11-25T09:10:00Z'), duration)).toThrow(RangeError);
  });
});

describe('the wall clock in Denver', () => {
  test('shows half past one twice when clocks go back on 1 November 2026', () => {
    const shown = ['2026-11-01T07:30:00Z', '2026-11-01T08:30:00Z'].map((at) => wallClock(instantOf(at), DENVER));
    expect(shown.map((clock) => `${clock.hour}:${clock.minute} ${clock.offset}`)).toEqual([
      '1:30 -06:00',
      '1:30 -07:00',
    ]);
  });

  test('skips the hour after two when clocks go forward on 8 March 2026', () => {
    const shown = ['2026-03-08T08:59:00Z', '2026-03-08T09:00:00Z'].map((at) => wallClock(instantOf(at), DENVER));
    expect(shown.map((clock) => clock.hour)).toEqual([1, 3]);
  });
});

describe('the next seven o’clock', () => {
  test.for([
    ['2026-11-25T02:10:00-07:00', '2026-11-25T07:00:00-07:00'],
    ['2026-11-25T06:59:59-07:00', '2026-11-25T07:00:00-07:00'],
    // Strictly later: work put off until daybreak at daybreak must not be due at once again.
    ['2026-11-25T07:00:00-07:00', '2026-11-26T07:00:00-07:00'],
    ['2026-11-25T23:30:00-07:00', '2026-11-26T07:00:00-07:00'],
    ['2026-10-31T22:00:00-06:00', '2026-11-01T07:00:00-07:00'],
    ['2026-11-01T01:30:00-06:00', '2026-11-01T07:00:00-07:00'],
    ['2026-03-07T22:00:00-07:00', '2026-03-08T07:00:00-06:00'],
  ] as const)('after %s is %s', ([now, expected]) => {
    expect(nextLocalHour(instantOf(now), DENVER, 7)).toBe(instantOf(expected));
  });

  test('is that of the property, not of where the desk stands', () => {
    expect(nextLocalHour(instantOf('2026-11-25T09:10:00Z'), 'Europe/Zurich', 7)).toBe(
      instantOf('2026-11-26T06:00:00Z'),
    );
  });

  test('of an hour that clocks skip is the moment they skip to', () => {
    expect(nextLocalHour(instantOf('2026-03-08T00:30:00-07:00'), DENVER, 2)).toBe(instantOf('2026-03-08T09:00:00Z'));
  });
});
