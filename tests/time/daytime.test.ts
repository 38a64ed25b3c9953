import { expect, test } from 'vitest';
import { daytimeFrom, daytimeUpTo, isDaytime } from '../../src/time/daytime.ts';
import { instantOf } from '../../src/time/instant.ts';

const DENVER = 'America/Denver';
const at = (local: string) => instantOf(local);

test.for([
  ['2026-11-25T07:59:59-07:00', false],
  ['2026-11-25T08:00:00-07:00', true],
  ['2026-11-25T20:59:59-07:00', true],
  ['2026-11-25T21:00:00-07:00', false],
  ['2026-11-25T02:10:00-07:00', false],
] as const)('%s is daytime: %s', ([local, day]) => {
  expect(isDaytime(at(local), DENVER)).toBe(day);
});

test('what falls in the night waits for eight, and what does not is left alone', () => {
  expect(daytimeFrom(at('2026-11-25T22:00:00-07:00'), DENVER)).toBe(at('2026-11-26T08:00:00-07:00'));
  expect(daytimeFrom(at('2026-11-25T02:10:00-07:00'), DENVER)).toBe(at('2026-11-25T08:00:00-07:00'));
  expect(daytimeFrom(at('2026-11-25T12:00:00-07:00'), DENVER)).toBe(at('2026-11-25T12:00:00-07:00'));
});

test('what would be too late after the night is said at eight in the evening before it', () => {
  expect(daytimeUpTo(at('2026-11-25T22:00:00-07:00'), DENVER)).toBe(at('2026-11-25T20:00:00-07:00'));
  expect(daytimeUpTo(at('2026-11-26T06:00:00-07:00'), DENVER)).toBe(at('2026-11-25T20:00:00-07:00'));
  expect(daytimeUpTo(at('2026-11-25T12:00:00-07:00'), DENVER)).toBe(at('2026-11-25T12:00:00-07:00'));
});

test.for([
  ['the night with 25 hours', '2026-11-01T00:30:00-06:00', '2026-11-01T08:00:00-07:00', '2026-10-31T20:00:00-06:00'],
  ['the night with 23 hours', '2026-03-08T00:30:00-07:00', '2026-03-08T08:00:00-06:00', '2026-03-07T20:00:00-07:00'],
] as const)('%s ends at eight by the clock on the wall', ([, night, morning, evening]) => {
  expect(daytimeFrom(at(night), DENVER)).toBe(at(morning));
  expect(daytimeUpTo(at(night), DENVER)).toBe(at(evening));
});

test('the hour is the reader’s, not the desk’s', () => {
  expect(isDaytime(at('2026-11-25T14:30:00Z'), DENVER)).toBe(false);
  expect(isDaytime(at('2026-11-25T14:30:00Z'), 'America/New_York')).toBe(true);
});
