import { dayIn, daysLater, instantAt } from '../time/calendar.ts';
import { msOf, wallClock } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';

/** "02:10", as clocks in the zone show it. */
export function hour(instant: Instant, zone: string): string {
  return wallClock(instant, zone).toPlainTime().toString({ smallestUnit: 'minute' });
}

/** "Wed 25 Nov" */
export function dayName(day: string): string {
  const noon = wallClock(instantAt(day, '12:00', 'UTC'), 'UTC');
  const [weekday, month] = [{ weekday: 'short' }, { month: 'short' }].map((shown) =>
    noon.toLocaleString('en-US', shown as { weekday: 'short' }),
  );
  return `${weekday} ${noon.day} ${month}`;
}

/** "Wed 25 Nov 02:10" */
export function dayAndHour(instant: Instant, zone: string): string {
  return `${dayName(dayIn(zone, instant))} ${hour(instant, zone)}`;
}

/** Whole minutes from one instant to another. */
export function minutesBetween(from: Instant, until: Instant): number {
  return Math.max(0, Math.round((msOf(until) - msOf(from)) / 60_000));
}

/** "9 min", "2 h 05" */
export function spanInWords(from: Instant, until: Instant): string {
  const minutes = minutesBetween(from, until);
  if (minutes < 60) return `${minutes} min`;
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')}`;
}

/** A night runs from evening to evening, so that every instant is of one night. */
export const EVENING = '18:00';

/** The day on whose evening the night began that an instant is of. */
export function nightOfInstant(instant: Instant, zone: string): string {
  const day = dayIn(zone, instant);
  return instant < instantAt(day, EVENING, zone) ? daysLater(day, -1) : day;
}

/** From when to when the night of a day runs. */
export function spanOfNight(day: string, zone: string): { readonly from: Instant; readonly until: Instant } {
  return { from: instantAt(day, EVENING, zone), until: instantAt(daysLater(day, 1), EVENING, zone) };
}
