import { daysLater, instantAt } from '../../time/calendar.ts';
import type { Day } from '../../time/calendar.ts';
import type { Instant } from '../../time/instant.ts';
import type { Callout, Conversation, Entry } from '../records.ts';

/** A conversation with all that is kept of it. */
export interface ToldConversation {
  readonly conversation: Conversation;
  readonly guest: string | null;
  readonly property: string | null;
  readonly room: string | null;
  readonly unit: string | null;
  readonly entries: readonly Entry[];
  readonly callouts: readonly (Callout & { readonly takenByName: string | null })[];
}

/** From the first instant up to the second. */
export interface Span {
  readonly from: Instant;
  readonly until: Instant;
}

/** The days from the first to the last, both whole, in a zone. */
export function spanOf(first: Day, last: Day, zone: string): Span {
  return { from: instantAt(first, '00:00', zone), until: instantAt(daysLater(last, 1), '00:00', zone) };
}
