import type { Instant } from '../time/instant.ts';

/** How the desk stands at an instant: what is due and not done, and who has not been found. */
export interface Standing {
  /** Rows of work that could be claimed, and since when the oldest could. */
  readonly due: readonly { readonly danger: boolean; readonly rows: number; readonly since: Instant }[];
  /** Callouts that ring, and since when the oldest does. */
  readonly untaken: readonly { readonly urgency: string; readonly callouts: number; readonly since: Instant }[];
}
