import type { PageRecords } from '../pages/records.ts';
import { latestConversation } from './conversations.ts';
import type { OpenRecords } from './open.ts';
import * as links from './page-links.ts';
import * as marks from './page-marks.ts';
import { night } from './page-nights.ts';
import { counted } from './page-numbers.ts';
import * as places from './page-places.ts';
import * as rentals from './page-rentals.ts';
import { callSheet } from './page-sheets.ts';
import { roster } from './people.ts';

/** What the pages ask, done by the modules of queries, each at one view of the records. */
export function pageRecordsOn(records: OpenRecords): PageRecords {
  const view: OpenRecords['viewTables'] = (use) => records.viewTables(use);
  const change: OpenRecords['onTables'] = (use) => records.onTables(use);
  return {
    night: (query) => view((handle) => night(handle, query)),
    callSheet: (id) => view((handle) => callSheet(handle, id)),
    latestOf: (phone) => view(async (handle) => (await latestConversation(handle, phone))?.id ?? null),
    counted: (from, until) => view((handle) => counted(handle, from, until)),
    roster: () => view(roster),
    places: () => view(places.places),
    rentals: (query) => view((handle) => rentals.rentals(handle, query)),
    unit: (id) => view((handle) => places.unit(handle, id)),
    room: (propertyId, label) => view((handle) => places.room(handle, propertyId, label)),
    mark: (noted) => change((handle) => marks.mark(handle, noted)),
    unmark: (entryId) => change((handle) => marks.unmark(handle, entryId)),
    calloutLink: (token) => view((handle) => links.calloutLink(handle, token)),
    calloutLinksOf: (personId, now) => view((handle) => links.calloutLinksOf(handle, personId, now)),
    revokeCalloutLinks: (calloutId, at) => change((handle) => links.revokeCalloutLinks(handle, calloutId, at)),
  };
}
