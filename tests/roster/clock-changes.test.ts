import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { gapsAndOverlaps } from '../../src/roster/gaps.ts';
import { whoIsOnCall } from '../../src/roster/on-call.ts';
import { stretchesBetween } from '../../src/roster/stretches.ts';
import { instantOf, msOf } from '../../src/time/instant.ts';
import type { Instant } from '../../src/time/instant.ts';
import { ANNA, BEN, EVERY_DAY, rosterOf, shift } from './people.ts';

/**
 * Nights when clocks change, checked against a second library (luxon, with the zone database of the system's ICU). The days
 * are of 2026: the zone, the day on whose evening the night begins, and its hours.
 */
const NIGHTS = [
  ['America/Denver', '2026-10-31', 25],
  ['America/Denver', '2026-03-07', 23],
  ['America/Denver', '2026-11-24', 24],
  ['Europe/Zurich', '2026-10-24', 25],
  ['Europe/Zurich', '2026-03-28', 23],
  ['America/Santiago', '2026-04-04', 25],
  ['Australia/Lord_Howe', '2026-04-04', 24.5],
  ['Asia/Kathmandu', '2026-03-28', 24],
] as const;

const inZone = (day: string, time: string, zone: string): DateTime => DateTime.fromISO(`${day}T${time}`, { zone });
const instant = (time: DateTime): Instant => instantOf(time.toUTC().toISO() ?? '');
const dayAfter = (day: string): string => DateTime.fromISO(day).plus({ days: 1 }).toISODate() ?? '';

describe.for(NIGHTS)('in %s, the night of %s', ([zone, day, hours]) => {
  const halves = rosterOf([shift(ANNA, EVERY_DAY, '20:00', '08:00'), shift(BEN, EVERY_DAY, '08:00', '20:00')], {
    zone,
  });

  test(`a watch of a whole day from noon has ${hours} hours`, () => {
    const roster = rosterOf([shift(ANNA, EVERY_DAY, '12:00', '12:00')], { zone });
    const midnight = instant(inZone(dayAfter(day), '00:00', zone));
    const [watch] = stretchesBetween(roster, midnight, instant(inZone(dayAfter(day), '00:01', zone)));
    expect((msOf(watch?.until ?? midnight) - msOf(watch?.from ?? midnight)) / 3_600_000).toBe(hours);
  });

  test('hand-over is at the hour that clocks show, and between hand-overs it is one person at every minute', () => {
    const evening = inZone(day, '20:00', zone);
    const morning = inZone(dayAfter(day), '08:00', zone);
    const onAt = (time: DateTime): string | undefined => whoIsOnCall(halves, instant(time))[0]?.name;
    expect([onAt(evening.minus({ milliseconds: 1 })), onAt(evening)]).toEqual([BEN.name, ANNA.name]);
    expect([onAt(morning.minus({ milliseconds: 1 })), onAt(morning)]).toEqual([ANNA.name, BEN.name]);
    for (let time = evening; time < morning; time = time.plus({ minutes: 7 })) expect(onAt(time)).toBe(ANNA.name);
  });

  test('there is neither gap nor overlap from noon to noon', () => {
    const noons = [inZone(day, '12:00', zone), inZone(dayAfter(day), '12:00', zone)].map(instant);
    expect(gapsAndOverlaps(halves, ...(noons as [Instant, Instant]))).toEqual([]);
  });
});

test.for([
  ['2026-11-01T01:29:00-06:00', 'Anna Fell'],
  ['2026-11-01T01:30:00-06:00', 'Ben Oake'],
  ['2026-11-01T01:59:00-06:00', 'Ben Oake'],
  ['2026-11-01T01:00:00-07:00', 'Ben Oake'],
  ['2026-11-01T01:29:00-07:00', 'Ben Oake'],
  ['2026-11-01T01:31:00-07:00', 'Ben Oake'],
] as const)(
  'a hand-over at half past one, which that night comes twice, is handed over once: at %s it is %s',
  ([at, name]) => {
    const roster = rosterOf([shift(ANNA, EVERY_DAY, '20:00', '01:30'), shift(BEN, EVERY_DAY, '01:30', '08:00')]);
    expect(whoIsOnCall(roster, instantOf(at))[0]?.name).toBe(name);
  },
);

test.for([
  ['2026-03-08T01:59:59-07:00', 'Anna Fell'],
  ['2026-03-08T03:29:00-06:00', 'Anna Fell'],
  ['2026-03-08T03:30:00-06:00', 'Ben Oake'],
] as const)(
  'a hand-over at half past two, which that night is skipped, is half an hour after the skip: at %s it is %s',
  ([at, name]) => {
    const roster = rosterOf([shift(ANNA, EVERY_DAY, '20:00', '02:30'), shift(BEN, EVERY_DAY, '02:30', '08:00')]);
    expect(whoIsOnCall(roster, instantOf(at))[0]?.name).toBe(name);
  },
);

test('over a whole year in both zones it is who the clock on the wall says', () => {
  for (const zone of ['America/Denver', 'Europe/Zurich']) {
    const roster = rosterOf([shift(ANNA, EVERY_DAY, '20:00', '08:00'), shift(BEN, EVERY_DAY, '08:00', '20:00')], {
      zone,
    });
    for (let time = inZone('2026-01-01', '00:30', zone); time.year === 2026; time = time.plus({ minutes: 173 })) {
      const expected = time.hour >= 20 || time.hour < 8 ? ANNA.name : BEN.name;
      expect(whoIsOnCall(roster, instant(time))[0]?.name, time.toISO() ?? '').toBe(expected);
    }
  }
});
