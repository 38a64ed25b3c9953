import { after, msOf } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';

/** So many tokens as of an instant; a whole one lets something go. Below none, that many have been promised. */
export interface Bucket {
  readonly tokens: number;
  readonly at: Instant;
}

export function fullBucket(perSecond: number, at: Instant): Bucket {
  return { tokens: Math.max(perSecond, 1), at };
}

/**
 * Takes a token, or promises the next that is free: the bucket after it, and when it may be used. Fills at `perSecond`
 * (above 0) up to one second's worth. A clock that was set back fills nothing, and the bucket goes on from there.
 */
export function takeToken(
  bucket: Bucket,
  perSecond: number,
  now: Instant,
): { readonly bucket: Bucket; readonly goesAt: Instant } {
  const seconds = Math.max(0, msOf(now) - msOf(bucket.at)) / 1000;
  const tokens = Math.min(Math.max(perSecond, 1), bucket.tokens + seconds * perSecond) - 1;
  const goesAt = tokens >= 0 ? now : after(now, `PT${(Math.ceil((-tokens / perSecond) * 1000) / 1000).toFixed(3)}S`);
  return { bucket: { tokens, at: now }, goesAt };
}
