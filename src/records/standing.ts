import type { Standing } from '../operation/standing.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';

/** How the desk stands at an instant, counted from what is committed. */
export async function standing({ db }: Handle, now: Instant): Promise<Standing> {
  const due = await db
    .selectFrom('work')
    .select(({ fn }) => ['danger', fn.countAll().as('rows'), fn.min('free_at').as('since')])
    .where('done_at', 'is', null)
    .where('free_at', '<=', now)
    .groupBy('danger')
    .execute();
  const untaken = await db
    .selectFrom('callouts')
    .select(({ fn }) => ['urgency', fn.countAll().as('rows'), fn.min('opened_at').as('since')])
    .where('status', '=', 'ringing')
    .groupBy('urgency')
    .execute();
  return {
    due: due.map(({ danger, rows, since }) => ({ danger: danger === 1, rows: Number(rows), since })),
    untaken: untaken.map(({ urgency, rows, since }) => ({ urgency, callouts: Number(rows), since })),
  };
}
