import { randomBytes } from 'node:crypto';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';

/** 96 bits: nobody guesses it, and it leaves the brief its room in the text. */
const TOKEN_BYTES = 12;

/** The token of a person's link to a callout, lasting until then: the one that stands, or a new one. */
export async function linkToCallout(
  { db }: Handle,
  link: { readonly calloutId: number; readonly personId: number; readonly now: Instant; readonly until: Instant },
): Promise<string> {
  const kept = await db
    .updateTable('callout_links')
    .set({ ends_at: link.until })
    .where('callout_id', '=', link.calloutId)
    .where('person_id', '=', link.personId)
    .where('revoked_at', 'is', null)
    .where('ends_at', '>', link.now)
    .returning('token')
    .executeTakeFirst();
  if (kept) return kept.token;
  const columns = { token: randomBytes(TOKEN_BYTES).toString('base64url'), ends_at: link.until, revoked_at: null };
  const { token } = await db
    .insertInto('callout_links')
    .values({ callout_id: link.calloutId, person_id: link.personId, ...columns })
    .onConflict((conflict) => conflict.columns(['callout_id', 'person_id']).doUpdateSet(columns))
    .returning('token')
    .executeTakeFirstOrThrow();
  return token;
}
