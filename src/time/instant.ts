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
  return new Date(epochMs).toISOString() as Instant;
}

/** Milliseconds since 1970. */
export function msOf(instant: Instant): number {
  return Date.parse(instant);
}

/** Values that are asked for again and again, made once; all are forgotten together before they grow too many. */
class Remembered<T> {
  readonly #made = new Map<string, T>();
  readonly #make: (name: string) => T;
  readonly #most: number;

  constructor(most: number, make: (name: string) => T) {
    this.#most = most;
    this.#make = make;
  }

  get(name: string): T {
    let value = this.#made.get(name);
    if (value === undefined) {
      value = this.#make(name);
      if (this.#made.size >= this.#most) this.#made.clear();
      this.#made.set(name, value);
    }
    return value;
  }
}

const lengths = new Remembered(1000, (written: string): number => {
  const duration = Temporal.Duration.from(written);
  if (duration.years !== 0 || duration.months !== 0 || duration.weeks !== 0 || duration.days !== 0) {
    throw new RangeError(`"${written}" has days or longer, which have no fixed length without a zone; give hours.`);
  }
  return duration.total('milliseconds');
});

/**
 * The instant after a duration of hours, minutes and seconds ("PT3M", "-PT4H").
 * @throws RangeError for days and longer, which have no fixed length without a zone.
 */
export function after(instant: Instant, duration: string): Instant {
  return instantOfMs(Math.floor(msOf(instant) + lengths.get(duration)));
}

/** One text asks for the same few again and again; looking a zone up costs more than the rest of it. */
const clocks = new Remembered(64, (at: string): Temporal.ZonedDateTime => {
  const [instant = '', zone = ''] = at.split(' ');
  return Temporal.Instant.from(instant).toZonedDateTimeISO(zone);
});

/** The wall clock of a time zone ("America/Denver") at an instant. */
export function wallClock(instant: Instant, zone: string): Temporal.ZonedDateTime {
  return clocks.get(`${instant} ${zone}`);
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
