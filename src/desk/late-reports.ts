import { after } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import { hastenNextRound } from './callouts.ts';
import type { Tx } from './records.ts';
import { replyWatchKey, workSchema } from './work-kinds.ts';

/** Longer than a lost reply is worth sending again: a watch put off so far expires instead of sending. */
const PAST_REPEATING = 'PT5H';

/**
 * A reply went on to the network. Many networks report no more than that, so it counts as arrived; its watch stays, put
 * off until it is void, because "cannot be delivered" may still follow and then makes it due at once. A watch that is
 * due already is left alone: this report may have been overtaken by that one.
 */
export async function replySent(tx: Tx, entryId: number, now: Instant): Promise<void> {
  await tx.delayWork(replyWatchKey(entryId), after(now, PAST_REPEATING), now);
}

/** A text sent as work is lost. A guest's is not sent again by this; a technician's moves its callout on at once. */
export async function textFailed(tx: Tx, workId: number, now: Instant): Promise<void> {
  const work = await tx.work(workId);
  if (work === null) return;
  const known = workSchema.safeParse({ kind: work.kind, payload: work.payload });
  if (!known.success || known.data.kind !== 'text' || known.data.payload.round === undefined) return;
  await hastenNextRound(tx, known.data.payload.round, now);
}
