import type { Instant } from '../../time/instant.ts';

/** What may be done with the records as a whole, and leaves a note. */
export type KeepingDeed = 'import' | 'export' | 'forget' | 'retention' | 'backup' | 'restore' | 'move';

/** What was done with the records, when and by whom. Never about whom: a note must not bring back who was forgotten. */
export interface KeepingNote {
  readonly at: Instant;
  /** Who did it: a user of this machine, a person of the roster, or the desk itself. */
  readonly by: string;
  readonly what: KeepingDeed;
  /** Counts and dates. */
  readonly details: Readonly<Record<string, string | number>>;
}
