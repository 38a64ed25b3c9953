import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { readablePhone } from '../../desk/callout/brief.ts';
import { triedIn } from '../../desk/callout/tried.ts';
import { fragment, page, seeOther } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { dangerWord, leaf, quoted } from '../layout.ts';
import type { CallSheet, CalloutLink } from '../records.ts';
import type { Visit } from '../visit.ts';
import { hour, spanInWords } from '../when.ts';
import { messagePlayers, pictureLinks } from '../media.ts';
import { deedIn, deeds } from './deeds.ts';
import { standingOf } from './standing.ts';
import type { Standing } from './standing.ts';

/** The guest's last texts that are shown. */
const LAST_TEXTS = 3;

const phoneLink = (e164: string): VNode => html`<a class="figure" href=${`tel:${e164}`}>${readablePhone(e164)}</a>`;

/** How to go on where the page cannot help. */
function goingOn({ side }: Visit, calloutId: number | null): VNode {
  const { directNumber, name } = side.outfit;
  return html`<p>
    To go on: ${calloutId === null ? 'answer the text that rang you' : `reply TAKE ${calloutId} to the text that rang you`}, or
    call ${name} at ${directNumber}.
  </p>`;
}

function whatToKnow(visit: Visit, sheet: CallSheet, { callout, token }: CalloutLink): VNode {
  const { conversation, property, entries } = sheet;
  const tried = triedIn(entries);
  const said = entries.filter((entry) => entry.who === 'guest' && entry.words.trim() !== '').slice(-LAST_TEXTS);
  const phones = [
    ['Guest', conversation.phone],
    ['Front desk', property?.frontDeskPhone ?? null],
    ['Dispatch centre', callout.urgency === 'danger' ? (property?.dispatchNumber ?? null) : null],
  ] as const;
  return html`
    <p class="brief">${callout.urgency === 'danger' ? html`${dangerWord()} ` : null}${quoted(callout.brief.replace(/^DANGER: /, ''))}</p>
    <dl>
      ${phones.map(([who, phone]) =>
        phone === null
          ? null
          : html`<dt>${who}</dt>
              <dd>${phoneLink(phone)}</dd>`,
      )}
      ${
        property === null
          ? null
          : html`<dt>Where</dt>
              <dd>${property.name}, ${property.streetAddress}</dd>`
      }
      ${
        property?.entrance == null
          ? null
          : html`<dt>Getting in</dt>
              <dd>${property.entrance}</dd>`
      }
      <dt>Tried</dt>
      <dd>${tried.length === 0 ? 'nothing yet' : tried.join('; ')}</dd>
    </dl>
    <h2>The last words</h2>
    ${said.map((entry) => html`<p>“${quoted(entry.words)}”</p>`)} ${pictureLinks(visit, `/c/${token}`, entries)}
    ${messagePlayers(visit, `/c/${token}/message`, callout)}
  `;
}

/** What the person is told first: how it stands for them. */
function standingWords(visit: Visit, link: CalloutLink, standing: Standing): VNode {
  const { callout } = link;
  const { zone } = visit.side.outfit;
  const at = callout.takenAt === null ? '' : ` since ${hour(callout.takenAt, zone)}`;
  switch (standing) {
    case 'ended':
      return html`<p>This link no longer opens.</p>
        ${goingOn(visit, callout.id)}`;
    case 'open':
      return html`<p role="status">
        <strong>Nobody has it yet.</strong> Asked for ${spanInWords(callout.openedAt, visit.now)} ago.
      </p>`;
    case 'passed':
      return html`<p role="status">You passed it on. If you can take it after all, TAKE still works.</p>`;
    case 'theirs':
      return html`<p role="status"><strong>It is yours</strong>${at}.</p>`;
    case 'others':
      return html`<p role="status"><strong>${callout.takenBy} has it</strong>${at}. Nothing is needed from you.</p>
        <p>If they cannot go, they pass it on, and it rings here again.</p>`;
    case 'closed':
      return html`<p role="status">
          <strong>It is closed</strong>${callout.takenBy === null ? '' : `, ${callout.takenBy} had it`}.
        </p>
        <p>${quoted(callout.note ?? '')}</p>`;
    default:
      return standing satisfies never;
  }
}

/** Those who have it, or may, see what it is about; nobody else does. */
function mayRead(standing: Standing): boolean {
  return standing === 'open' || standing === 'passed' || standing === 'theirs';
}

async function running(visit: Visit, link: CalloutLink): Promise<VNode> {
  const standing = standingOf(link, visit.now);
  const sheet = mayRead(standing) ? await visit.side.records.callSheet(link.callout.conversationId) : null;
  return html`<div>
    ${standingWords(visit, link, standing)} ${sheet === null ? null : whatToKnow(visit, sheet, link)}
    ${sheet === null ? null : deeds(visit, link, standing, sheet.conversation.lang)}
  </div>`;
}

async function unknown(visit: Visit): Promise<Answer> {
  const body = html`<p>This link is not known here. It may have been cut short on its way.</p>
    ${goingOn(visit, null)}`;
  return page(leaf(visit, { title: 'Not known', body, bare: true }), 404);
}

async function sheetOfLink(visit: Visit, link: CalloutLink, said: string | null): Promise<VNode> {
  const standing = standingOf(link, visit.now);
  const live = standing === 'ended' ? {} : { 'data-live': `/c/${link.token}/live`, 'data-every': '4' };
  const body = html`
    ${said === null ? null : html`<p class="said" role="status">${quoted(said)}</p>`}
    <div ...${live}>${await running(visit, link)}</div>
  `;
  return leaf(visit, { title: `Callout ${link.callout.id}, for ${link.person.name}`, body, bare: true, script: true });
}

/** Opening the link changes nothing: previews of texts fetch it before anyone reads it. */
export async function calloutPage(visit: Visit): Promise<Answer> {
  const link = await visit.side.records.calloutLink(visit.params['token'] ?? '');
  if (link === null) return unknown(visit);
  const deed = visit.query.get('deed');
  const said =
    deed === null || standingOf(link, visit.now) === 'ended' ? null : await visit.side.desk.calloutDeedDone(deed);
  const status = standingOf(link, visit.now) === 'ended' ? 410 : 200;
  return page(await sheetOfLink(visit, link, said), status);
}

export async function calloutLive(visit: Visit): Promise<Answer> {
  const link = await visit.side.records.calloutLink(visit.params['token'] ?? '');
  return link === null ? unknown(visit) : fragment(await running(visit, link));
}

/** A button was pressed. What came of it is told by the page that follows. */
export async function actOnCallout(visit: Visit): Promise<Answer> {
  const link = await visit.side.records.calloutLink(visit.params['token'] ?? '');
  if (link === null) return unknown(visit);
  if (standingOf(link, visit.now) === 'ended') return page(await sheetOfLink(visit, link, null), 410);
  const deed = deedIn(visit.form);
  if (deed === null) return page(await sheetOfLink(visit, link, 'That button is not known here.'), 400);
  await visit.side.desk.calloutDeed({ ...deed, personId: link.person.id, calloutId: link.callout.id });
  return seeOther(`/c/${link.token}?deed=${deed.id}`);
}
