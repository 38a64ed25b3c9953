import type { Instant } from '../../time/instant.ts';

/** What a check of the flows' files came to. */
export interface FlowsChecked {
  readonly at: Instant;
  readonly ok: boolean;
  /** As the check prints it, a line each. */
  readonly lines: readonly string[];
}

/** The check of the flows as they stand in their files; it takes up to minutes of work, in a process of its own. */
export interface FlowChecks {
  /** Of edited files, or what the owner last asked for; null when neither happened since the start. */
  last(): FlowsChecked | null;
  /** Since when a check that was asked for runs; null when none does. */
  runningSince(): Instant | null;
  /** Begins one, unless one runs. Nobody should wait for it on a page. */
  run(): Promise<FlowsChecked>;
}
