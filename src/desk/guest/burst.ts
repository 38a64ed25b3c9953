import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';

/** Texts of one phone in a short time. */
export interface Burst {
  readonly since: Instant;
  readonly texts: number;
}

/** No guest writes so much in so short a time; a phone in a pocket, a child or a program does. Own caution. */
const SPAN = 'PT10M';
const MOST_TEXTS = 30;

/** The burst with one more text; a new one where the last began too long ago. Pure. */
export function burstWith(before: Burst | null, now: Instant): Burst {
  const isOver = before === null || now >= after(before.since, SPAN) || now < before.since;
  return isOver ? { since: now, texts: 1 } : { since: before.since, texts: before.texts + 1 };
}

/**
 * Whether a text of a burst is answered. Beyond so many the guest is told once, and then only what may be danger, or asks for
 * help, is answered until the burst is over. All of them are heard and kept.
 */
export function paceOf({ texts }: Burst): 'answer' | 'tell-once' | 'keep-silent' {
  if (texts <= MOST_TEXTS) return 'answer';
  return texts === MOST_TEXTS + 1 ? 'tell-once' : 'keep-silent';
}
