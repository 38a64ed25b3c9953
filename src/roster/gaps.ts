import type { Instant } from '../time/instant.ts';
import type { Roster } from './roster.ts';
import { stretchesBetween } from './stretches.ts';
import type { Stretch } from './stretches.ts';

/** A time in which the roster does not say one person for each position. */
export type RosterFlaw =
  /** Nobody is on shift: callouts go to the owner. */
  | { readonly kind: 'gap'; readonly from: Instant; readonly until: Instant }
  /** Two people stand at one position. */
  | {
      readonly kind: 'overlap';
      readonly from: Instant;
      readonly until: Instant;
      readonly position: number;
      readonly personIds: readonly [number, number];
    };

const later = (a: Instant, b: Instant): Instant => (a > b ? a : b);
const earlier = (a: Instant, b: Instant): Instant => (a < b ? a : b);

function gaps(stretches: readonly Stretch[], from: Instant, until: Instant): RosterFlaw[] {
  const found: RosterFlaw[] = [];
  let covered = from;
  for (const stretch of stretches) {
    if (stretch.from > covered) found.push({ kind: 'gap', from: covered, until: stretch.from });
    covered = later(covered, stretch.until);
  }
  if (covered < until) found.push({ kind: 'gap', from: covered, until });
  return found;
}

function overlaps(stretches: readonly Stretch[], from: Instant, until: Instant): RosterFlaw[] {
  return stretches.flatMap((one, index) =>
    stretches
      .slice(index + 1)
      .filter((other) => one.position === other.position && other.from < one.until && one.from < other.until)
      .map((other): RosterFlaw => {
        const personIds = [one.personId, other.personId] as const;
        const both = { from: later(from, other.from), until: earlier(until, earlier(one.until, other.until)) };
        return { kind: 'overlap', ...both, position: one.position, personIds };
      }),
  );
}

/** The gaps and overlaps of a roster in a time, with its swaps and holidays, in order. People who left leave gaps. */
export function gapsAndOverlaps(roster: Roster, from: Instant, until: Instant): readonly RosterFlaw[] {
  const ids = new Set(roster.people.map((person) => person.id));
  const stretches = stretchesBetween(roster, from, until)
    .filter((stretch) => ids.has(stretch.personId))
    .toSorted((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : a.position - b.position));
  const flaws = [...gaps(stretches, from, until), ...overlaps(stretches, from, until)];
  return flaws.toSorted((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : 0));
}
