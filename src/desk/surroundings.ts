import type { Hear } from '../words/heard.ts';
import type { Flows } from '../flow/turn.ts';
import type { Instant } from '../time/instant.ts';
import type { Carrier } from './carrier.ts';
import type { Outfit } from './guest/facts-of.ts';
import type { Records } from './records.ts';
import type { SendHealth } from './due/send-health.ts';

/** What the desk stands among. Everything that can differ between a test and a night is in here, the time too. */
export interface Surroundings {
  readonly records: Records;
  readonly carrier: Carrier;
  readonly hear: Hear;
  /** Today's flows. */
  readonly flows: Flows;
  readonly flowHash: string;
  readonly outfit: Outfit;
  /** Whether the owners are reminded once a month to test the list. */
  readonly drillReminder: 'monthly' | 'never';
  /** Where the pages are, without a slash at its end: texts of callouts carry a link. Null where there are none. */
  readonly pagesUrl: string | null;
  /** After how many days guests' words and numbers are taken out of the records; null for never. */
  readonly keepWordsDays: number | null;
  readonly sends: SendHealth;
  readonly now: () => Instant;
  /** Events worth a line in the log; never a guest's words, never a full phone number. */
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
  /** Something is due now that was not before: wakes the work loop. */
  readonly wake: () => void;
}
