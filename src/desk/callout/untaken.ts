import type { Instant } from '../../time/instant.ts';
import { tellGuests } from './words.ts';
import type { Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** Nobody has taken a callout in the time that was set: its guests get the number that reaches a person without the desk. */
export async function tellUntaken(desk: Surroundings, tx: Tx, calloutId: number, now: Instant): Promise<string> {
  const callout = await tx.callout(calloutId);
  if (callout === null || callout.status === 'taken' || callout.status === 'done') return 'no longer wanted';
  await tellGuests(desk, tx, callout, 'untaken', {}, now);
  return 'the guests have the direct number';
}
