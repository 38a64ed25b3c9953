import { nightOf } from '../../roster/swap-words.ts';
import type { Roster } from '../../roster/roster.ts';
import { daysLater, isDay } from '../../time/calendar.ts';
import type { Day } from '../../time/calendar.ts';
import type { Instant } from '../../time/instant.ts';
import type { Visit } from '../visit.ts';
import { nightOfInstant, spanOfNight } from '../when.ts';

/** A row of the picture: a night with the day that follows it. */
export interface Row {
  readonly day: Day;
  readonly from: Instant;
  readonly until: Instant;
}

const NIGHTS = 7;

/** A week of the roster as the address asks for it: from the night that runs, unless it names another. */
export interface Week {
  /** In the daytime the night to come. */
  readonly tonight: Day;
  readonly first: Day;
  readonly rows: readonly Row[];
  readonly from: Instant;
  readonly until: Instant;
  /** The night that is to be swapped. */
  readonly chosen: Day | null;
}

export function weekOf({ query, now }: Visit, { zone }: Roster): Week {
  const asked = query.get('from') ?? '';
  const chosen = query.get('night') ?? '';
  const first = isDay(asked) ? asked : nightOfInstant(now, zone);
  const rows = Array.from({ length: NIGHTS }, (_, index): Row => {
    const day = daysLater(first, index);
    return { day, ...spanOfNight(day, zone) };
  });
  return {
    tonight: nightOf('tonight', zone, now),
    first,
    rows,
    from: spanOfNight(first, zone).from,
    until: spanOfNight(daysLater(first, NIGHTS - 1), zone).until,
    chosen: isDay(chosen) ? chosen : null,
  };
}
