import { dayIn, daysLater, instantAt } from './calendar.ts';
import type { Instant } from './instant.ts';
import { nextLocalHour, wallClock } from './instant.ts';

/**
 * The hours in which people may be sent what they did not ask for: 8 in the morning to 9 in the evening where they are.
 * The limit that the United States set for calls that sell something (47 CFR 64.1200(c)(1), from memory), kept here for
 * everything that can wait. The local hour decides, so a night of 23 or 25 hours needs no care.
 */
const FIRST_HOUR = 8;
const END_HOUR = 21;
/** The last hour in which something is said that concerns the night: it leaves an hour to act on it. */
const LAST_CALL = '20:00';

export function isDaytime(instant: Instant, zone: string): boolean {
  const { hour } = wallClock(instant, zone);
  return hour >= FIRST_HOUR && hour < END_HOUR;
}

/** The instant itself in the daytime of the zone, else the next morning's first. */
export function daytimeFrom(instant: Instant, zone: string): Instant {
  return isDaytime(instant, zone) ? instant : nextLocalHour(instant, zone, FIRST_HOUR);
}

/** The instant itself in the daytime of the zone, else eight in the evening before it: early rather than too late. */
export function daytimeUpTo(instant: Instant, zone: string): Instant {
  if (isDaytime(instant, zone)) return instant;
  const day = dayIn(zone, instant);
  const sameEvening = instantAt(day, LAST_CALL, zone);
  return sameEvening < instant ? sameEvening : instantAt(daysLater(day, -1), LAST_CALL, zone);
}
