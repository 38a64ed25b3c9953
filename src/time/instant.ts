import { Temporal } from 'temporal-polyfill';

/**
 * An instant as ISO 8601 in UTC with milliseconds ("2026-11-25T09:10:00.000Z"). Always this one shape, so that instants
 * compare and sort as plain strings, in code and in both kinds of records.
 */
export type Instant = string & { readonly instant: true };

const asInstant = (instant: Temporal.Instant): Instant => instant.toString({ smallestUnit: 'millisecond' }) as Instant;

/**
 * Reads any ISO 8601 time with a zone or offset.
 * @throws RangeError when the text is not one.
 */
export function instantOf(iso: string): Instant {
  return asInstant(Temporal.Instant.from(iso));
}

/** The instant of a number of milliseconds since 1970, as clocks give it. */
export function instantOfMs(epochMs: number): Instant {
  return asInstant(Temporal.Instant.fromEpochMilliseconds(epochMs));
}

/** Milliseconds since 1970. */
export function msOf(instant: Instant): number {
  return Temporal.Instant.from(instant).epochMilliseconds;
}

/**
 * The instant after a duration of hours, minutes and seconds ("PT3M", "-PT4H").
 * @throws RangeError for days and longer, which have no fixed length without a zone.
 */
export function after(instant: Instant, duration: string): Instant {
  return asInstant(Temporal.Instant.from(instant).add(Temporal.Duration.from(duration)));
}

/** The wall clock of a time zone ("America/Denver") at an instant. */
export function wallClock(instant: Instant, zone: string): Temporal.ZonedDateTime {
  return Temporal.Instant.from(instant).toZonedDateTimeISO(zone);
}

/** The next instant, strictly later, at which clocks in the zone show the hour (daybreak is 07:00). */
export function nextLocalHour(instant: Instant, zone: string, hour: number): Instant {
  const here = wallClock(instant, zone);
  const today = here.toPlainDate().toZonedDateTime({ timeZone: zone, plainTime: Temporal.PlainTime.from({ hour }) });
  const next =
    Temporal.ZonedDateTime.compare(today, here) > 0
      ? today
      : here
          .toPlainDate()
          .add({ days: 1 })
          .toZonedDateTime({ timeZone: zone, plainTime: Temporal.PlainTime.from({ hour }) });
  return asInstant(next.toInstant());
}
