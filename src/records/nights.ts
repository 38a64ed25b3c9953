import type { NightCount, SetBack, Tx } from '../desk/records.ts';
import { msOf } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import { toCallout } from './callouts.ts';
import type { Handle } from './engine.ts';

/** Conversations and callouts opened from the first instant up to the second, oldest first. */
export async function countNight({ db }: Handle, from: Instant, until: Instant): Promise<NightCount> {
  const conversations = await db
    .selectFrom('conversations')
    .select(['id', 'ending'])
    .where('opened_at', '>=', from)
    .where('opened_at', '<', until)
    .orderBy('id')
    .execute();
  const callouts = await db
    .selectFrom('callouts')
    .selectAll()
    .where('opened_at', '>=', from)
    .where('opened_at', '<', until)
    .orderBy('id')
    .execute();
  return { conversations, callouts: callouts.map(toCallout) };
}

/** When the desk last wrote that it was alive; null when it never did. */
export async function lastAlive({ db }: Handle): Promise<Instant | null> {
  return (await db.selectFrom('signs_of_life').select('at').executeTakeFirst())?.at ?? null;
}

/** Writes that the desk is alive, over what it wrote before. */
export async function noteAlive({ db }: Handle, at: Instant): Promise<void> {
  await db
    .insertInto('signs_of_life')
    .values({ id: 1, at })
    .onConflict((conflict) => conflict.column('id').doUpdateSet({ at }))
    .execute();
}

/** How many times the clock was set back, as noted. */
export async function setBacksNoted({ db }: Handle): Promise<number> {
  return (await db.selectFrom('set_backs').select('number').executeTakeFirst())?.number ?? 0;
}

/** Workers of one clock look at it some seconds apart at most. */
const SAME_WITHIN_MS = 15_000;

const isClose = (one: Instant, other: Instant): boolean => Math.abs(msOf(one) - msOf(other)) <= SAME_WITHIN_MS;

/** Notes that the clock was set back, unless another process that has the same clock did since `known`. */
export async function noteSetBack(handle: Handle, { from, to }: SetBack, known: number): ReturnType<Tx['noteSetBack']> {
  const { db, locks } = handle;
  const first = await db
    .insertInto('set_backs')
    .values({ id: 1, number: 1, from_at: from, to_at: to })
    .onConflict((conflict) => conflict.column('id').doNothing())
    .returning('id')
    .executeTakeFirst();
  if (first !== undefined) return { number: 1, isNew: true };
  // Held, so that of two processes that notice at once the second sees what the first noted.
  const latest = await db
    .selectFrom('set_backs')
    .select(['number', 'from_at', 'to_at'])
    .$if(locks, (query) => query.forUpdate())
    .executeTakeFirstOrThrow();
  const { number } = latest;
  if (number > known && isClose(latest.from_at, from) && isClose(latest.to_at, to)) return { number, isNew: false };
  await db
    .updateTable('set_backs')
    .set({ number: number + 1, from_at: from, to_at: to })
    .execute();
  return { number: number + 1, isNew: true };
}
