import type { Instant } from '../../time/instant.ts';

/**
 * How a piece of due work ended: done, with a word for the records; to be tried again; not begun and due later; or not begun,
 * because another worker has it.
 */
export type WorkOutcome =
  | { readonly done: string }
  | { readonly againAt: Instant }
  | { readonly movedTo: Instant }
  | { readonly takenOver: true };

export const TAKEN_OVER: WorkOutcome = { takenOver: true };
