import { after, wallClock } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import { gapsAndOverlaps } from './gaps.ts';
import type { Roster } from './roster.ts';

/** How far ahead gaps are told: a week's pattern shows all of its own in a week. */
const AHEAD = 'PT168H';

function hour(instant: Instant, zone: string): string {
  const there = wallClock(instant, zone);
  const weekday = there.toLocaleString('en-US', { weekday: 'short' });
  return `${weekday} ${there.toPlainDate().toString()} ${there.toPlainTime().toString({ smallestUnit: 'minute' })}`;
}

/** What whoever starts the desk or changes the roster should see at once, a line each; none when all is well for a week. */
export function rosterNews(roster: Roster, now: Instant): readonly string[] {
  const owners = roster.people.filter((person) => person.role === 'owner').map((person) => person.name);
  const owner = owners.join(' and ') || 'nobody: the roster names no owner';
  if (roster.shifts.length === 0 && roster.holidays.length === 0) {
    return [`The roster is empty. On call at every hour: ${owner}. Enter one with npm run roster -- FILE`];
  }
  const name = (id: number): string => roster.people.find((person) => person.id === id)?.name ?? 'someone who left';
  return gapsAndOverlaps(roster, now, after(now, AHEAD)).map((flaw) => {
    const span = `${hour(flaw.from, roster.zone)} to ${hour(flaw.until, roster.zone)}`;
    if (flaw.kind === 'gap') return `Nobody is on call ${span}: it falls to ${owner}.`;
    return `${flaw.personIds.map(name).join(' and ')} are both at position ${flaw.position} ${span}.`;
  });
}
