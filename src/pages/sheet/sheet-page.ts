import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { readablePhone } from '../../desk/callout/brief.ts';
import type { FlowBook } from '../../flow/book.ts';
import { fragment, page, seeOther } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { dangerWord, leaf, quoted, tokenField } from '../layout.ts';
import { ENDING_WORDS, matterOfLine, takenWords, wasDanger } from '../night/told.ts';
import type { CallSheet, SheetCallout } from '../records.ts';
import { NothingHere, rowOf, signedIn } from '../visit.ts';
import type { Visit } from '../visit.ts';
import { dayAndHour, hour, spanInWords } from '../when.ts';
import { messagePlayers } from '../media.ts';
import { askedAt, ledger } from './ledger.ts';
import { expectedIn } from './mark-form.ts';
import { pathOf, stepsWalked } from './path.ts';

/** The flows that a conversation began with; null where they were not kept. */
function bookOf(sheet: CallSheet): FlowBook | null {
  return sheet.flowDocuments === null ? null : (sheet.flowDocuments as FlowBook);
}

async function sheetOf(visit: Visit): Promise<CallSheet> {
  const sheet = await visit.side.records.callSheet(rowOf(visit, 'conversation'));
  if (sheet === null) throw new NothingHere('no such conversation');
  return sheet;
}

function calloutPart(visit: Visit, callout: SheetCallout): VNode {
  const { zone } = visit.side.outfit;
  const [state] = takenWords({ callouts: [callout] });
  return html`<div class="said">
    <p>${callout.urgency === 'danger' ? html`${dangerWord()} ` : null}<strong>${state}</strong></p>
    <p>${quoted(callout.brief.replace(/^DANGER: /, ''))}</p>
    <dl>
      <dt>Opened</dt>
      <dd>${hour(callout.openedAt, zone)}</dd>
      <dt>Tried</dt>
      <dd>
        ${
          callout.offers.length === 0
            ? 'nobody yet'
            : callout.offers.map(
                (offer) =>
                  html`${hour(offer.at, zone)} ${offer.name} by ${offer.by}${offer.passedAt === null ? '' : ', passed'}<br />`,
              )
        }
      </dd>
      <dt>Taken</dt>
      <dd>
        ${callout.takenAt === null ? 'by nobody' : `${hour(callout.takenAt, zone)}, after ${spanInWords(callout.openedAt, callout.takenAt)}`}
      </dd>
      <dt>Closed</dt>
      <dd>${callout.doneAt === null ? 'no' : html`${hour(callout.doneAt, zone)}: ${quoted(callout.note ?? '')}`}</dd>
    </dl>
    ${messagePlayers(visit, `${visit.path}/message/${visit.seal.id('callout', callout.id)}`, callout)}
    ${
      callout.status === 'done'
        ? null
        : html`<form method="post" action=${`${visit.path}/revoke`}>
            ${tokenField(visit.formToken)}
            <input type="hidden" name="callout" value=${visit.seal.id('callout', callout.id)} />
            <button class="second">End the links to callout ${callout.id}</button>
          </form>`
    }
  </div>`;
}

/** What changes while the conversation runs. */
function running(visit: Visit, sheet: CallSheet, book: FlowBook | null): VNode {
  const { callouts, conversation } = sheet;
  const ended = conversation.ending === null ? 'Still open.' : `Ended: ${ENDING_WORDS[conversation.ending]}.`;
  return html`<div>
    <p role="status">${ended}</p>
    ${callouts.map((callout) => calloutPart(visit, callout))}
    <h2>The ledger</h2>
    ${ledger(visit, sheet, book)}
  </div>`;
}

function head(visit: Visit, { conversation, stay, property }: CallSheet): VNode {
  const room = stay?.room ?? conversation.room;
  return html`<dl>
    <dt>Guest</dt>
    <dd>
      ${stay?.guestName ?? 'not known'}, <span class="figure">${readablePhone(conversation.phone)}</span>
      ${stay?.fragile === true ? html`, <strong>fragile</strong>` : null}
    </dd>
    <dt>Where</dt>
    <dd>${property?.name ?? 'place not known'}${room === null ? '' : `, room ${room}`}</dd>
    <dt>Unit</dt>
    <dd>
      ${stay === null ? 'not known' : html`<a href=${`/places/units/${visit.seal.id('unit', stay.unit.id)}`}>${stay.unit.tag}</a>`}
    </dd>
    <dt>Language</dt>
    <dd>${conversation.lang === 'es' ? 'Spanish' : 'English'}</dd>
  </dl>`;
}

/** One conversation as a call sheet. */
export async function sheetPage(visit: Visit): Promise<Answer> {
  const sheet = await sheetOf(visit);
  const book = bookOf(sheet);
  const { conversation, callouts } = sheet;
  const flows = [...new Set(stepsWalked(sheet).map((step) => step.slice(0, step.indexOf('.'))))];
  const told = { callouts, flows, ending: conversation.ending };
  const open = conversation.ending === null || callouts.some((callout) => callout.status !== 'done');
  const live = open ? { 'data-live': `${visit.path}/live`, 'data-every': '5' } : {};
  const body = html`
    <p>
      ${wasDanger(told) ? html`${dangerWord()} ` : null}${dayAndHour(conversation.openedAt, visit.side.outfit.zone)}
    </p>
    ${head(visit, sheet)}
    <div class="columns">
      <div ...${live}>${running(visit, sheet, book)}</div>
      <div>${book === null ? null : await pathOf(visit, sheet, book)}</div>
    </div>
  `;
  const title = `Call sheet: ${matterOfLine(visit.side.desk.book(), told)}`;
  return page(leaf(visit, { title, body, script: open, wide: true }));
}

export async function sheetLive(visit: Visit): Promise<Answer> {
  const sheet = await sheetOf(visit);
  const here = { ...visit, path: visit.path.replace(/\/live$/, '') };
  return fragment(running(here, sheet, bookOf(sheet)));
}

/** Marks a line as heard wrong, with what it should have been; or takes the mark back. */
export async function markLine(visit: Visit): Promise<Answer> {
  const sheet = await sheetOf(visit);
  const id = visit.seal.open('entry', visit.form.get('entry') ?? '');
  const entry = sheet.entries.find((each) => each.id === id && each.who === 'guest');
  if (entry === undefined) throw new NothingHere('no such line in this conversation');
  const back = `${visit.path.replace(/\/mark$/, '')}#line-${entry.id}`;
  if (visit.form.get('undo') === 'yes') {
    await visit.side.records.unmark(entry.id);
    return seeOther(back);
  }
  const expected = expectedIn(visit.form, askedAt(bookOf(sheet), entry.step));
  if (expected === null) return notTaken(visit, back);
  const { id: personId } = signedIn(visit);
  await visit.side.records.mark({ entryId: entry.id, personId, at: visit.now, expected });
  return seeOther(back);
}

async function notTaken(visit: Visit, back: string): Promise<Answer> {
  const body = html`<p role="alert">
    That answer is none that the question could have. <a href=${back}>Go back</a> and write one of those that are named
    beside the field.
  </p>`;
  return page(leaf(visit, { title: 'Not kept', body }), 400);
}

/** Ends every link to one of the conversation's callouts. */
export async function revokeLinks(visit: Visit): Promise<Answer> {
  const sheet = await sheetOf(visit);
  const id = visit.seal.open('callout', visit.form.get('callout') ?? '');
  if (id === null || !sheet.callouts.some((callout) => callout.id === id)) throw new NothingHere('no such callout');
  await visit.side.records.revokeCalloutLinks(id, visit.now);
  return seeOther(visit.path.replace(/\/revoke$/, ''));
}
