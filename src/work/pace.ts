import type { Instant } from '../time/instant.ts';
import type { DueRow } from './do-due.ts';
import { fullBucket, takeToken } from './token-bucket.ts';

export interface PaceParts {
  /** Above 0. */
  readonly perSecond: number;
  /** Whether rows of a kind count. */
  readonly counts: (kind: string) => boolean;
  readonly now: () => Instant;
}

/**
 * Holds rows back so that at most so many begin in a second. A row that is too early is promised a time and goes then;
 * danger is never held back, but counts.
 */
export function paceOf({
  perSecond,
  counts,
  now,
}: PaceParts): (row: DueRow & { readonly danger: boolean }) => Instant | null {
  let bucket = fullBucket(perSecond, now());
  const promised = new Set<number>();
  return (row) => {
    if (!counts(row.kind) || promised.delete(row.id)) return null;
    const taken = takeToken(bucket, perSecond, now());
    bucket = taken.bucket;
    if (row.danger || taken.goesAt <= now()) return null;
    promised.add(row.id);
    return taken.goesAt;
  };
}
