import type { Day } from '../time/calendar.ts';
import { dayIn, daysLater, instantAt, weekdayOf } from '../time/calendar.ts';
import type { Instant } from '../time/instant.ts';
import type { Roster, Watch } from './roster.ts';

/** A shift as it really happens once: from one instant up to, not including, another. */
export interface Stretch {
  readonly personId: number;
  readonly position: number;
  /** They stand where the pattern has someone else. */
  readonly swapped: boolean;
  /** The day on which it starts. */
  readonly day: Day;
  readonly from: Instant;
  readonly until: Instant;
}

/** Who stands where someone stood, after the swaps of a night, in the order in which they were agreed. */
function standIn(roster: Roster, day: Day, personId: number): number {
  return roster.swaps
    .filter((swap) => swap.day === day)
    .reduce((who, swap) => (who === swap.personId ? swap.withId : who === swap.withId ? swap.personId : who), personId);
}

function stretchOf(roster: Roster, day: Day, watch: Watch): Stretch {
  const { zone } = roster;
  const from = instantAt(day, watch.from, zone);
  const until = instantAt(watch.from < watch.to ? day : daysLater(day, 1), watch.to, zone);
  // A swap is of a night, and a night belongs to the evening it begins on: a shift that only begins at midnight is still
  // of the evening before, and one that ends at midnight is of its own.
  const night = watch.from === '00:00' ? daysLater(day, -1) : day;
  const atMidnight = watch.from >= watch.to || watch.from === '00:00';
  const personId = atMidnight ? standIn(roster, night, watch.personId) : watch.personId;
  return { personId, position: watch.position, swapped: personId !== watch.personId, day, from, until };
}

/** What starts on a day: the shifts of the holiday where it is one, else those of the week. */
function watchesOn(roster: Roster, day: Day): readonly Watch[] {
  const holiday = roster.holidays.find((each) => each.day === day);
  return holiday?.shifts ?? roster.shifts.filter((shift) => shift.days.includes(weekdayOf(day)));
}

/**
 * Every shift that falls into a time, as it happens: with swaps and holidays, and with hand-over at the hour that clocks
 * show, so that the night when they are put back has an hour more of it and the other one an hour less.
 */
export function stretchesBetween(roster: Roster, from: Instant, until: Instant): readonly Stretch[] {
  const last = dayIn(roster.zone, until);
  const stretches: Stretch[] = [];
  // A shift is at most a day long, so none that matters started before yesterday.
  for (let day = daysLater(dayIn(roster.zone, from), -1); day <= last; day = daysLater(day, 1)) {
    stretches.push(...watchesOn(roster, day).map((watch) => stretchOf(roster, day, watch)));
  }
  return stretches.filter((stretch) => stretch.from < until && from < stretch.until);
}
