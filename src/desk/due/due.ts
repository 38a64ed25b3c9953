import { TAKEN_OVER } from './outcome.ts';
import type { WorkOutcome } from './outcome.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { callNotPlaced, placeCall } from '../call/calling.ts';
import { checkOnGuest } from '../callout/danger-check.ts';
import { askAfterVisit } from './after-visit.ts';
import { remindOfDrill } from './drill-reminder.ts';
import { planAhead } from './plan.ts';
import { goQuiet } from './quiet.ts';
import { remindOfRefill } from './refill.ts';
import { moveOn } from './move-on.ts';
import { keepNoLonger } from './retention.ts';
import { tellOfStay } from './stay-notices.ts';
import { tellOwners } from './summary.ts';
import type { Tx, Work } from '../records.ts';
import { ring } from '../callout/ringing.ts';
import { sendText } from './sending.ts';
import type { Surroundings } from '../surroundings.ts';
import { tellUntaken } from '../callout/untaken.ts';
import { KINDS, isTextWork, workSchema } from '../work-kinds.ts';
import type { CallWork, DeskWork, TextWork } from '../work-kinds.ts';

type RecordsWork = Exclude<DeskWork, TextWork | CallWork>;

async function inRecords(desk: Surroundings, tx: Tx, row: Work, work: RecordsWork): Promise<string> {
  switch (work.kind) {
    case 'ring':
      return ring(desk, tx, work.payload, desk.now());
    case 'danger-check':
      return checkOnGuest(desk, tx, work.payload, desk.now());
    case 'untaken':
      return tellUntaken(desk, tx, work.payload.calloutId, desk.now());
    case 'silence':
      return moveOn(desk, tx, row, 'silence', work.payload);
    case 'after-visit':
      return askAfterVisit(desk, tx, row, work.payload);
    case 'quiet':
      return goQuiet(desk, tx, row, work.payload.conversationId);
    case 'plan':
      return planAhead(desk, tx, row.id, work.payload?.behindRental ?? 0);
    case 'welcome':
    case 'collection':
      return tellOfStay(desk, tx, work.kind, work.payload);
    case 'refill':
      return remindOfRefill(desk, tx, row, work.payload);
    case 'summary':
      return tellOwners(desk, tx, work.payload.day);
    case 'retention':
      return keepNoLonger(desk, tx, row, work.payload);
    case 'drill-reminder':
      return remindOfDrill(desk, tx);
    default:
      return work satisfies never;
  }
}

/** The instant after which a row is no longer done: its own, or by its kind; null for never. */
function lapsesAt(row: Work, kind: DeskWork['kind']): Instant | null {
  const { lapsesAfter } = KINDS[kind];
  return row.notAfter ?? (lapsesAfter === null ? null : after(row.dueAt, lapsesAfter));
}

/** What is too late is not done; but whoever waits for a call that is not placed goes on to the next one. */
async function lapsed(desk: Surroundings, { kind, payload }: DeskWork): Promise<WorkOutcome> {
  if (kind === 'call') await desk.records.transaction((tx) => callNotPlaced(tx, payload, desk.now()));
  return { done: 'expired' };
}

/**
 * Does one piece of due work. Safe to do twice: what is written is finished in the transaction that writes it, and what is
 * sent may be doubled only where it must not be lost.
 * @throws Error for work of a kind this desk does not know.
 */
export async function doWork(desk: Surroundings, row: Work): Promise<WorkOutcome> {
  const known = workSchema.safeParse({ kind: row.kind, payload: row.payload });
  if (!known.success) throw new Error(`work ${row.id}: kind "${row.kind}" or its payload is not known here`);
  const work = known.data;
  const lapses = lapsesAt(row, work.kind);
  if (lapses !== null && desk.now() > lapses) return lapsed(desk, work);
  if (isTextWork(work)) return sendText(desk, row, work);
  if (work.kind === 'call') return placeCall(desk, row, work.payload);
  const done = await desk.records.transaction(async (tx) => {
    if (!(await tx.holdWork(row))) return null;
    const result = await inRecords(desk, tx, row, work);
    await tx.finishWork(row.id, result, desk.now());
    return result;
  });
  if (done === null) return TAKEN_OVER;
  desk.wake();
  return { done };
}
