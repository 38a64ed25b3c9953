import type { Drill } from '../desk/records.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';

export async function beginDrill({ db }: Handle, personIds: readonly number[], at: Instant): Promise<Drill> {
  const { id } = await db.insertInto('drills').values({ begun_at: at }).returning('id').executeTakeFirstOrThrow();
  for (const personId of personIds) {
    await db.insertInto('drill_calls').values({ drill_id: id, person_id: personId, answered_at: null }).execute();
  }
  return { id, begunAt: at, calls: personIds.map((personId) => ({ personId, answeredAt: null })) };
}

export async function drill({ db }: Handle, id: number): Promise<Drill | null> {
  const row = await db.selectFrom('drills').selectAll().where('id', '=', id).executeTakeFirst();
  if (!row) return null;
  const calls = await db
    .selectFrom('drill_calls')
    .selectAll()
    .where('drill_id', '=', id)
    .orderBy('person_id')
    .execute();
  return {
    id: row.id,
    begunAt: row.begun_at,
    calls: calls.map((call) => ({ personId: call.person_id, answeredAt: call.answered_at })),
  };
}

export async function latestDrill(handle: Handle): Promise<Drill | null> {
  const row = await handle.db.selectFrom('drills').select('id').orderBy('id', 'desc').limit(1).executeTakeFirst();
  return row ? drill(handle, row.id) : null;
}

/** Notes a person's first answer; false when there is one, or the person was not tried. */
export async function answerDrill({ db }: Handle, drillId: number, personId: number, at: Instant): Promise<boolean> {
  const answered = await db
    .updateTable('drill_calls')
    .set({ answered_at: at })
    .where('drill_id', '=', drillId)
    .where('person_id', '=', personId)
    .where('answered_at', 'is', null)
    .returning('person_id')
    .executeTakeFirst();
  return answered !== undefined;
}
