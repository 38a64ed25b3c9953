import { after } from '../../time/instant.ts';
import type { Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { noticeToOwners } from './summary.ts';

/** A list that was tested within so long needs no reminder. */
const TESTED_WITHIN = 'PT336H';

/** Reminds the owners to test the list, unless that was done lately. */
export async function remindOfDrill(desk: Surroundings, tx: Tx): Promise<string> {
  const now = desk.now();
  const last = await tx.latestDrill();
  if (last !== null && after(last.begunAt, TESTED_WITHIN) > now) return 'tested lately';
  const body =
    'Once a month: does the night desk still reach everyone on the list? Run npm run drill; it rings each of them, says that it is a test, and shows who answered how fast.';
  return noticeToOwners(desk, tx, body, 'drill-reminder-text');
}
