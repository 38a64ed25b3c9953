import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';

/** Keeps the documents under their hash; the same hash again changes nothing. */
export async function keepFlowVersion({ db }: Handle, hash: string, documents: unknown, at: Instant): Promise<void> {
  await db
    .insertInto('flow_versions')
    .values({ hash, documents_json: JSON.stringify(documents ?? null), kept_at: at })
    .onConflict((conflict) => conflict.column('hash').doNothing())
    .execute();
}

/** The documents kept under a hash; null when there are none. */
export async function flowVersion({ db }: Handle, hash: string): Promise<unknown> {
  const row = await db.selectFrom('flow_versions').select('documents_json').where('hash', '=', hash).executeTakeFirst();
  return row ? JSON.parse(row.documents_json) : null;
}
