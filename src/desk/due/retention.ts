import { daysLater, instantAt } from '../../time/calendar.ts';
import { dropWaits } from '../keeping/forget.ts';
import type { Tx, Work } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** When it is done, in the outfit's zone: the hour in which the fewest guests write. Own choice, no source. */
export const RETENTION_AT = '04:30';
/** Conversations in one transaction, so that no text waits for long; what is left is done right after. */
const MOST_AT_ONCE = 50;

/** Takes guests' words and numbers out of what is older than the setting allows, and leaves a note when there was any. */
export async function keepNoLonger(
  desk: Surroundings,
  tx: Tx,
  work: Work,
  { day, days, part }: { readonly day: string; readonly days: number; readonly part: number },
): Promise<string> {
  const { zone } = desk.outfit;
  const now = desk.now();
  const firstKept = daysLater(day, -days);
  const before = instantAt(firstKept, '00:00', zone);
  const ids = await tx.keeping.lapsedConversations(before, MOST_AT_ONCE);
  const forgotten = await tx.keeping.forgetConversations(ids);
  await dropWaits(tx, ids, now);
  const more = ids.length === MOST_AT_ONCE;
  const rentals = more ? 0 : await tx.keeping.forgetRentals(firstKept);
  if (!more) await tx.keeping.clearRest(before);
  if (forgotten.conversations + rentals > 0) {
    const details = { before: firstKept, ...forgotten, rentals };
    await tx.keeping.note({ at: now, by: 'the desk, by the setting KEEP_WORDS_DAYS', what: 'retention', details });
  }
  await tx.finishWork(work.id, `forgot ${forgotten.conversations}`, now);
  if (more) {
    await tx.addWork({
      kind: 'retention',
      dueAt: now,
      notAfter: null,
      key: retentionKey(day, part + 1),
      phone: null,
      danger: false,
      payload: { day, days, part: part + 1 },
    });
  }
  return `forgot ${forgotten.conversations}`;
}

export const retentionKey = (day: string, part: number): string => `retention:${day}:${part}`;

/** What the calendar asks for, where the setting sets a limit. */
export function retentionOn({ keepWordsDays }: Surroundings, today: string) {
  if (keepWordsDays === null) return [];
  const payload = { day: today, days: keepWordsDays, part: 0 };
  return [{ kind: 'retention', at: RETENTION_AT, key: retentionKey(today, 0), payload } as const];
}
