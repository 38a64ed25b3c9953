import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { hastenNextRound } from '../callout/ringing.ts';
import type { TextName, TextReport, TextState } from '../carrier.ts';
import type { Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { guestUnreached, replyArrived, replyLost } from '../callout/unreached.ts';
import { isTextWork, replyWatchKey, workSchema } from '../work-kinds.ts';
import type { TextWork } from '../work-kinds.ts';

/** Longer than a lost reply is worth sending again: a watch put off so far expires instead of sending. */
const PAST_REPEATING = 'PT5H';

/** A state is followed by one of a higher rank only; of the two last ones, the first that is reported stays. */
const RANK: Readonly<Record<TextState, number>> = { waiting: 0, 'handed-on': 1, arrived: 2, lost: 2 };

/** Takes one report on a text. What leads back, or was said before, does nothing. */
export async function takeReport(desk: Surroundings, tx: Tx, report: TextReport, now: Instant): Promise<void> {
  const { about, state } = report;
  const name: TextName = 'reply' in about ? `reply-${about.reply}` : `work-${about.work}`;
  if (!(await tx.noteTextState(name, state, RANK[state], now))) return;
  if ('reply' in about) await replyReported(tx, about.reply, state, now);
  else if (state === 'lost') await textLost(desk, tx, about.work, report.optedOut, now);
  else if (state === 'arrived') await textArrived(tx, about.work);
}

/**
 * A reply went on to the network. Many networks report no more than that, so it counts as arrived; its watch stays, put
 * off until it is void, because "cannot be delivered" may still follow and then makes it due at once. A watch that is
 * due already is left alone: this report may have been overtaken by that one.
 */
async function replyReported(tx: Tx, entryId: number, state: TextState, now: Instant): Promise<void> {
  const key = replyWatchKey(entryId);
  if (state === 'handed-on') await tx.delayWork(key, after(now, PAST_REPEATING), now);
  if (state === 'arrived') {
    await tx.dropWork(key, now);
    await replyArrived(tx, entryId);
  }
  if (state === 'lost') {
    await tx.hastenWork(key, now);
    await replyLost(tx, entryId, now);
  }
}

async function textWork(tx: Tx, workId: number): Promise<TextWork | null> {
  const row = await tx.work(workId);
  if (row === null) return null;
  const known = workSchema.safeParse({ kind: row.kind, payload: row.payload });
  return known.success && isTextWork(known.data) ? known.data : null;
}

/** A text sent as work is lost: a human has to reach the guest; a technician's moves its callout on at once. */
async function textLost(desk: Surroundings, tx: Tx, workId: number, optedOut: boolean, now: Instant): Promise<void> {
  const work = await textWork(tx, workId);
  if (work === null) return;
  if (optedOut) await noteOptedOut(tx, work.payload.to, now);
  if (work.kind === 'text' && work.payload.round !== undefined) await hastenNextRound(tx, work.payload.round, now);
  await guestUnreached(desk, tx, work, now);
}

async function textArrived(tx: Tx, workId: number): Promise<void> {
  const entryId = (await textWork(tx, workId))?.payload.entryId ?? null;
  if (entryId !== null) await replyArrived(tx, entryId);
}

/** The carrier blocks a phone because its owner wants no texts: it is on record as if they had told the desk. */
export async function noteOptedOut(tx: Tx, phone: string, now: Instant): Promise<void> {
  const known = await tx.lockPhone(phone);
  if (known.optedOutAt === null) await tx.savePhone({ ...known, optedOutAt: now });
}
