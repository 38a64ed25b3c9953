import { after, msOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Records, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { KINDS, workSchema } from '../work-kinds.ts';

/** A clock is corrected by less than this all the time, and nothing has to be done about it. */
const SET_BACK_FROM_MS = 60_000;

const WAITS = Object.entries(KINDS)
  .filter(([, rules]) => rules.isAWait)
  .map(([kind]) => kind);

/** A wait, but until a time of the day: the first round of what is held for the morning, a check-back at daybreak. */
function isByTheClock(kind: string, payload: unknown): boolean {
  const known = workSchema.safeParse({ kind, payload });
  if (!known.success) return false;
  if (known.data.kind === 'ring') return known.data.payload.round === 0;
  return known.data.kind === 'silence' && known.data.payload.byTheClock === true;
}

/** Moves waits that were counted on the later time with the clock, so that a callout's next minute stays a minute. */
async function moveWaits(tx: Tx, backMs: number): Promise<number> {
  const back = `-PT${Math.round(backMs / 1000)}S`;
  let moved = 0;
  for (const row of await tx.undoneWork(WAITS)) {
    if (isByTheClock(row.kind, row.payload)) continue;
    const notAfter = row.notAfter === null ? null : after(row.notAfter, back);
    await tx.retimeWork(row.id, { dueAt: after(row.dueAt, back), notAfter });
    moved += 1;
  }
  return moved;
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
    if (backMs < SET_BACK_FROM_MS) return;
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
