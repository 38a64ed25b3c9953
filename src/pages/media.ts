import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { Entry } from '../desk/records.ts';
import type { Answer } from './answer.ts';
import { page } from './answer.ts';
import type { Media } from '../desk/media.ts';
import { leaf } from './layout.ts';
import { standingOf } from './callout/standing.ts';
import type { CalloutLink, SheetCallout } from './records.ts';
import { NothingHere, rowOf } from './visit.ts';
import type { Visit } from './visit.ts';
import { hour } from './when.ts';

/** What the carrier keeps, by itself: it may load nothing, run nothing, and is kept by no cache on the way. */
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
  return alone(visit, 'A picture', await visit.side.desk.picture({ entryId: entry.id, index }));
}

/** What was fetched, or why not. */
async function alone(visit: Visit, title: string, media: Media<string>): Promise<Answer> {
  if (media.shown) return { status: 200, headers: { 'Content-Type': media.type, ...ALONE }, body: media.bytes };
  return page(leaf(visit, { title, body: html`<p role="status">${media.why}</p>`, bare: true }), 404);
}

/** Of the one to whom a callout's link was sent, while they may read what it is about. @throws NothingHere otherwise */
async function readableLink(visit: Visit): Promise<CalloutLink> {
  const link = await visit.side.records.calloutLink(visit.params['token'] ?? '');
  const standing = link === null ? 'ended' : standingOf(link, visit.now);
  if (link === null || !['open', 'passed', 'theirs'].includes(standing)) throw new NothingHere('no such link');
  return link;
}

/** For the one to whom a callout's link was sent. */
export async function calloutPicture(visit: Visit): Promise<Answer> {
  const link = await readableLink(visit);
  const sheet = await visit.side.records.callSheet(link.callout.conversationId);
  return picture(visit, sheet?.entries ?? []);
}

/** For the owner, on the sheet of a conversation. */
export async function sheetPicture(visit: Visit): Promise<Answer> {
  const sheet = await visit.side.records.callSheet(rowOf(visit, 'conversation'));
  return picture(visit, sheet?.entries ?? []);
}

/**
 * The messages that callers left for whoever takes a callout, to be played where they stand. Each is fetched from the carrier
 * when it is played.
 *
 * @param at the address of one callout's messages, without a slash at its end
 */
export function messagePlayers(visit: Visit, at: string, { recordings }: SheetCallout): VNode | null {
  if (recordings.length === 0) return null;
  const { zone } = visit.side.outfit;
  return html`<ul class="plain">
    ${recordings.map(({ at: left, lengthS }, index) => {
      const name = `Message left on the phone at ${hour(left, zone)}, ${lengthS} s`;
      return html`<li>
        ${name}<br />
        <audio controls preload="none" src=${`${at}/${index}`} aria-label=${name}></audio>
      </li>`;
    })}
  </ul>`;
}

/** The message that a visit asks for, of one of these callouts. @throws NothingHere for any other */
async function message(visit: Visit, callout: SheetCallout | undefined): Promise<Answer> {
  const index = Number(visit.params['index']);
  if (callout?.recordings[index] === undefined) throw new NothingHere('no such message');
  return alone(visit, 'A message', await visit.side.desk.message({ calloutId: callout.id, index }));
}

/** For the one to whom a callout's link was sent. */
export async function calloutMessage(visit: Visit): Promise<Answer> {
  return message(visit, (await readableLink(visit)).callout);
}

/** For the owner, on the sheet of a conversation. */
export async function sheetMessage(visit: Visit): Promise<Answer> {
  const sheet = await visit.side.records.callSheet(rowOf(visit, 'conversation'));
  const calloutId = rowOf(visit, 'callout', 'callout');
  return message(
    visit,
    sheet?.callouts.find(({ id }) => id === calloutId),
  );
}
