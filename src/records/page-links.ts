import type { CalloutLink } from '../pages/records.ts';
import type { Instant } from '../time/instant.ts';
import { callout as calloutById } from './callouts.ts';
import type { Handle } from './engine.ts';
import { sheetCallout } from './page-sheets.ts';
import type { Row } from './schema.ts';

async function toLink(handle: Handle, row: Row<'callout_links'>): Promise<CalloutLink | null> {
  const callout = await calloutById(handle, row.callout_id);
  const person = await handle.db.selectFrom('people').selectAll().where('id', '=', row.person_id).executeTakeFirst();
  if (callout === null || !person) return null;
  return {
    token: row.token,
    callout: {
      ...(await sheetCallout(handle, callout)),
      conversationId: callout.conversationId,
      takenById: callout.takenBy,
    },
    person: { ...person, active: person.active === 1 },
    endsAt: row.ends_at,
    revokedAt: row.revoked_at,
  };
}

/** The link with a token, ended and revoked ones too; null when there never was one. */
export async function calloutLink(handle: Handle, token: string): Promise<CalloutLink | null> {
  const row = await handle.db.selectFrom('callout_links').selectAll().where('token', '=', token).executeTakeFirst();
  return row ? toLink(handle, row) : null;
}

/** Enough for any night; what is older has ended. */
const MOST_LINKS = 20;

/** Links of one person that still open, newest callout first. */
export async function calloutLinksOf(handle: Handle, personId: number, now: Instant): Promise<readonly CalloutLink[]> {
  const rows = await handle.db
    .selectFrom('callout_links')
    .selectAll()
    .where('person_id', '=', personId)
    .where('ends_at', '>', now)
    .where('revoked_at', 'is', null)
    .orderBy('callout_id', 'desc')
    .limit(MOST_LINKS)
    .execute();
  const links: CalloutLink[] = [];
  for (const row of rows) {
    const link = await toLink(handle, row);
    if (link !== null) links.push(link);
  }
  return links;
}

/** Ends every link to a callout. */
export async function revokeCalloutLinks({ db }: Handle, calloutId: number, at: Instant): Promise<void> {
  await db
    .updateTable('callout_links')
    .set({ revoked_at: at })
    .where('callout_id', '=', calloutId)
    .where('revoked_at', 'is', null)
    .execute();
}
