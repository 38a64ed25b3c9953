import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { Entry } from '../desk/records.ts';
import type { Answer } from './answer.ts';
import { page } from './answer.ts';
import { leaf } from './layout.ts';
import { standingOf } from './callout/standing.ts';
import { NothingHere, rowOf } from './visit.ts';
import type { Visit } from './visit.ts';

/** A picture by itself: it may load nothing, run nothing, and is kept by no cache on the way. */
const ALONE = {
  'Content-Security-Policy': "default-src 'none'; sandbox",
  'X-Content-Type-Options': 'nosniff',
  'Cache-Control': 'no-store',
} as const;

/**
 * Links to the pictures of an entry. A picture is fetched from the carrier when its link is opened, not with the page: the
 * page is looked at every few seconds, and previews of texts open it as well.
 *
 * @param at the address of the page, without a slash at its end
 */
export function pictureLinks(visit: Visit, at: string, entries: readonly Entry[]): VNode | null {
  const all = entries.flatMap((entry) => entry.media.map((_, index) => ({ entry, index })));
  if (all.length === 0) return null;
  return html`<p>
    ${all.map(({ entry, index }, number) => {
      const address = `${at}/picture/${visit.seal.id('entry', entry.id)}/${index}`;
      return html`<a href=${address}>Picture ${number + 1} from the guest</a>${number + 1 < all.length ? ', ' : ''}`;
    })}
  </p>`;
}

/** The picture that a visit asks for, of one of these entries. @throws NothingHere for any other */
async function picture(visit: Visit, entries: readonly Entry[]): Promise<Answer> {
  const entryId = rowOf(visit, 'entry', 'entry');
  const index = Number(visit.params['index']);
  const entry = entries.find(({ id }) => id === entryId);
  if (entry === undefined || !Number.isInteger(index)) throw new NothingHere('no such picture');
  const asked = await visit.side.desk.picture({ entryId: entry.id, index });
  if (asked.shown) return { status: 200, headers: { 'Content-Type': asked.type, ...ALONE }, body: asked.bytes };
  const body = html`<p role="status">${asked.why}</p>`;
  return page(leaf(visit, { title: 'A picture', body, bare: true }), 404);
}

/** For the one to whom a callout's link was sent, while they may read what it is about. */
export async function calloutPicture(visit: Visit): Promise<Answer> {
  const link = await visit.side.records.calloutLink(visit.params['token'] ?? '');
  const standing = link === null ? 'ended' : standingOf(link, visit.now);
  if (link === null || !['open', 'passed', 'theirs'].includes(standing)) throw new NothingHere('no such link');
  const sheet = await visit.side.records.callSheet(link.callout.conversationId);
  return picture(visit, sheet?.entries ?? []);
}

/** For the owner, on the sheet of a conversation. */
export async function sheetPicture(visit: Visit): Promise<Answer> {
  const sheet = await visit.side.records.callSheet(rowOf(visit, 'conversation'));
  return picture(visit, sheet?.entries ?? []);
}
