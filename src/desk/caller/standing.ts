import type { StepId } from '../../flow/book.ts';
import type { Prompt } from '../../flow/speak.ts';
import type { Instant } from '../../time/instant.ts';

/** What comes after the last words of a turn. */
export type Then =
  /** The question of a step, or, with null, what is wrong. */
  | { readonly leadsTo: 'ask'; readonly step: StepId | null }
  /** Whether there is anything else. */
  | { readonly leadsTo: 'farewell' }
  /** The emergency: has someone called? */
  | { readonly leadsTo: 'danger' }
  | { readonly leadsTo: 'queue'; readonly calloutId: number }
  | { readonly leadsTo: 'hang-up' };

/** Where a call stands: what the next turn will be an answer to. Kept as JSON with the call. */
export type Standing = {
  /** Turns in a row in which nothing, or nothing that could be understood, came. */
  readonly misses: number;
  /** The unit that was named before anything else was said. */
  readonly tag?: string;
} &
  /** Nothing was said in it yet. */
  (
    | { readonly at: 'arrived' }
    | { readonly at: 'unit' }
    | { readonly at: 'question'; readonly step: StepId | null }
    /** Words that were too many for one prompt, and what comes after them. */
    | {
        readonly at: 'prompts';
        readonly step: StepId | null;
        readonly left: readonly Prompt[];
        readonly after: Then;
        readonly byWord: boolean;
      }
    /** "I heard ... Is that right?" */
    | { readonly at: 'sure'; readonly step: StepId | null; readonly words: string }
    | { readonly at: 'farewell' }
    | { readonly at: 'danger' }
    /** Someone has the callout: what is new, or shall they be rung? */
    | { readonly at: 'taken'; readonly calloutId: number }
    | Waiting
    | { readonly at: 'consent'; readonly calloutId: number }
    | { readonly at: 'recording'; readonly calloutId: number }
    /** Someone on the list calls back about a callout that was offered to them. */
    | { readonly at: 'technician'; readonly calloutId: number; readonly personId: number; readonly turn: number }
    | { readonly at: 'over' }
  );

export interface Waiting {
  readonly at: 'waiting';
  readonly calloutId: number;
  /** Whom the desk rings for this caller, in order; empty in danger, where the callout's own rounds ring everyone. */
  readonly order: readonly number[];
  /** How many of them have been rung without anybody joining. */
  readonly tried: number;
  /** Since when the one whose turn it is has been rung. */
  readonly rungAt?: Instant;
  /** The last of them whose name the caller was told. */
  readonly heardOf?: number;
}
