import type { CompanyLog } from '../company-log.ts';
import type { Seen } from '../seen.ts';

/** What the desk promises whatever happens to it. */
export const GUARANTEES = [
  'every accepted text has one entry',
  'every accepted text has one reply',
  'every danger text has a callout',
  'no callout is lost',
  'no callout is untaken in silence',
  'nobody is told twice',
  'what is sent is in the records, and the other way round',
  'the order of each guest is kept',
  'nothing due is left undone',
] as const;
export type Guarantee = (typeof GUARANTEES)[number];

/** One thing that is not as it was promised, by ids alone. */
export interface Broken {
  readonly guarantee: Guarantee;
  readonly what: string;
}

/** Looks at one side beside the other. Pure. */
export type Look = (log: CompanyLog, seen: Seen) => readonly Broken[];
