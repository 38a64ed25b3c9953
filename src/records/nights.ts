import type { NightCount } from '../desk/records.ts';
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
