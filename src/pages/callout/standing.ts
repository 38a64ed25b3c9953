import type { CalloutLink } from '../records.ts';
import type { Instant } from '../../time/instant.ts';

/** How a callout stands for the person who opened its link; what they see and can do follows from it. */
export type Standing =
  /** The link no longer opens: by time, by the owner, or because they have left. */
  | 'ended'
  /** Someone may still take it; they have not passed. */
  | 'open'
  /** They passed it on; they may take it all the same. */
  | 'passed'
  | 'theirs'
  | 'others'
  | 'closed';

/** How it stands now. Whoever may no longer open it learns nothing of it. */
export function standingOf({ callout, person, endsAt, revokedAt }: CalloutLink, now: Instant): Standing {
  if (revokedAt !== null || !person.active || now >= endsAt) return 'ended';
  if (callout.status === 'done') return 'closed';
  if (callout.status === 'taken') return callout.takenById === person.id ? 'theirs' : 'others';
  const passed = callout.offers.some((offer) => offer.personId === person.id && offer.passedAt !== null);
  return passed ? 'passed' : 'open';
}
