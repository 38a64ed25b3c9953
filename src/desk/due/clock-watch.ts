import { DIRECT_NUMBER_AFTER } from '../callout/callouts.ts';
import { TRYING } from '../../roster/trying.ts';
import { after, msOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Records, Tx, Work } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { KINDS, workSchema } from '../work-kinds.ts';

/** A clock is corrected by less than this all the time, and nothing has to be done about it. */
const SET_BACK_FROM_MS = 60_000;

const WAITS = Object.entries(KINDS)
  .filter(([, rules]) => rules.isAWait)
  .map(([kind]) => kind);

/** A wait, but until a time of the day: the first round of what is held for the morning, a check-back at daybreak. */
async function isByTheClock(tx: Tx, { kind, payload }: Work): Promise<boolean> {
  const known = workSchema.safeParse({ kind, payload });
  if (!known.success) return false;
  const { data } = known;
  if (data.kind === 'silence') return data.payload.byTheClock === true;
  // What is held for the morning is counted from there; later rounds are a wait again.
  const fromTheMorning = data.kind === 'untaken' || (data.kind === 'ring' && data.payload.round === 0);
  return fromTheMorning && (await tx.callout(data.payload.calloutId))?.urgency === 'morning';
}

/** Moves waits that were counted on the later time with the clock, so that a callout's next minute stays a minute. */
async function moveWaits(tx: Tx, backMs: number): Promise<number> {
  const back = `-PT${Math.round(backMs / 1000)}S`;
  let moved = 0;
  for (const row of await tx.undoneWork(WAITS)) {
    if (await isByTheClock(tx, row)) continue;
    const notAfter = row.notAfter === null ? null : after(row.notAfter, back);
    await tx.retimeWork(row.id, { dueAt: after(row.dueAt, back), notAfter });
    moved += 1;
  }
  return moved;
}

/** How long after the clock was set back everything is written by the new time. */
const ALL_WRITTEN_AFTER = 'PT10S';

/** Work by which people hear of a callout. */
const OF_CALLOUTS = ['ring', 'untaken', 'text', 'call'] as const;

/** The farthest off that such a row can be when it is written; null for what is held for the morning. */
async function farthestOff(tx: Tx, row: Work): Promise<string | null> {
  const known = workSchema.safeParse({ kind: row.kind, payload: row.payload });
  if (!known.success) return null;
  const { data } = known;
  if (data.kind !== 'ring' && data.kind !== 'untaken') return 'PT0S';
  const urgency = (await tx.callout(data.payload.calloutId))?.urgency ?? 'morning';
  if (urgency === 'morning') return null;
  return data.kind === 'ring' ? TRYING[urgency].wait : DIRECT_NUMBER_AFTER[urgency];
}

/**
 * What was being written while the clock was set back may have come after the waits were moved, and be due by the time
 * before: whoever is to hear of a callout does not hear hours later.
 */
async function pullIn(tx: Tx, now: Instant): Promise<void> {
  for (const row of await tx.undoneWork(OF_CALLOUTS)) {
    const off = await farthestOff(tx, row);
    if (off === null || row.dueAt <= after(now, off)) continue;
    await tx.retimeWork(row.id, { dueAt: after(now, off), notAfter: row.notAfter });
  }
}

/**
 * Notices a clock that was set back, by the latest time this desk has seen, also before it was last stopped. Set forward it
 * needs no care: what is due is done once and plans what follows from there.
 */
export function clockWatch(
  desk: Pick<Surroundings, 'now' | 'note'> & { readonly records: Records },
): () => Promise<void> {
  let latest: Instant | null = null;
  let known: number | null = null;
  let lookAgainAt: Instant | null = null;
  return async () => {
    if (known === null) {
      [latest, known] = await desk.records.read(async (tx): Promise<[Instant | null, number]> => [
        await tx.lastAlive(),
        await tx.setBacksNoted(),
      ]);
    }
    const now = desk.now();
    const seen = latest ?? now;
    latest = now;
    const backMs = msOf(seen) - msOf(now);
    if (lookAgainAt !== null && now >= lookAgainAt) {
      lookAgainAt = null;
      await desk.records.transaction((tx) => pullIn(tx, now));
    }
    if (backMs < SET_BACK_FROM_MS) return;
    lookAgainAt = after(now, ALL_WRITTEN_AFTER);
    const moved = await desk.records.transaction(async (tx) => {
      // The waits are moved once, however many workers have this clock.
      const noted = await tx.noteSetBack({ from: seen, to: now }, known ?? 0);
      known = noted.number;
      if (!noted.isNew) return null;
      await tx.noteAlive(now);
      return moveWaits(tx, backMs);
    });
    if (moved === null) return;
    desk.note('the clock was set back; waits were moved with it', { seconds: Math.round(backMs / 1000), moved });
  };
}
