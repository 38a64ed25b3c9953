import type { Instant } from '../../time/instant.ts';

/** How a piece of due work ended: done, with a word for the records; to be tried again; or not begun and due later. */
export type WorkOutcome = { readonly done: string } | { readonly againAt: Instant } | { readonly movedTo: Instant };
