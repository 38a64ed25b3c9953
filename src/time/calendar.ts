import { Temporal } from 'temporal-polyfill';
import type { Instant } from './instant.ts';
import { instantOf, wallClock } from './instant.ts';

/** A day of the calendar, ISO 8601 ("2026-11-25"). Days compare and sort as plain strings. */
export type Day = string;

/** The day that a calendar on the wall in the zone shows. */
export function dayIn(zone: string, instant: Instant): Day {
  return wallClock(instant, zone).toPlainDate().toString();
}

/** The day so many days later; earlier for a negative number. */
export function daysLater(day: Day, days: number): Day {
  return Temporal.PlainDate.from(day).add({ days }).toString();
}

/** The Monday of a day's week. */
export function mondayOf(day: Day): Day {
  return daysLater(day, 1 - weekdayOf(day));
}

/** ISO: 1 is Monday, 7 is Sunday. */
export function weekdayOf(day: Day): number {
  return Temporal.PlainDate.from(day).dayOfWeek;
}

/**
 * The instant at which clocks in the zone show a time ("HH:MM") of a day. Where they show it twice (the hour that is
 * repeated in autumn) the first; where they skip it in spring, as long after the skip as the time is into it.
 */
export function instantAt(day: Day, time: string, zone: string): Instant {
  const there = Temporal.PlainDate.from(day).toZonedDateTime({
    timeZone: zone,
    plainTime: Temporal.PlainTime.from(time),
  });
  return instantOf(there.toInstant().toString());
}

/** Whether this is a day that the calendar has: not 2026-02-30. */
export function isDay(written: string): boolean {
  try {
    return /^\d{4}-\d{2}-\d{2}$/.test(written) && Temporal.PlainDate.from(written, { overflow: 'reject' }) !== null;
  } catch {
    return false;
  }
}

/** Whether the time zone database has a zone of this name. */
export function isZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}
