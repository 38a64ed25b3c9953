import { ownerLists } from './desk/lists/lists.ts';
import type { PagesSide } from './pages/visit.ts';
import { listRecordsOn } from './records/list-records.ts';
import type { OpenRecords } from './records/open.ts';
import { pageRecordsOn } from './records/page-records.ts';
import { signInRecordsOn } from './records/page-sign-in.ts';
import { toldRecordsOn } from './records/told.ts';

/** What the pages stand among, on open records. */
export function pagesSideOn(
  records: OpenRecords,
  parts: Omit<PagesSide, 'records' | 'signIn' | 'told' | 'lists'>,
): PagesSide {
  const { desk, outfit, centsAPart, now } = parts;
  const lists = listRecordsOn(records);
  return {
    ...parts,
    records: pageRecordsOn(records),
    signIn: signInRecordsOn(records),
    told: toldRecordsOn(records),
    lists: () => ownerLists({ lists, records, book: desk.book(), zone: outfit.zone, centsAPart, now: now() }),
  };
}
