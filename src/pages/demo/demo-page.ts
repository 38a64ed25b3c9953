import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { readablePhone } from '../../desk/callout/brief.ts';
import { CALLOUT_PATH } from '../../desk/callout/link.ts';
import type { FlowBook } from '../../flow/book.ts';
import { fragment, page, seeOther } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf, quoted, tokenField } from '../layout.ts';
import { ledger } from '../sheet/ledger.ts';
import { NothingHere } from '../visit.ts';
import type { Visit } from '../visit.ts';
import { dayIn } from '../../time/calendar.ts';
import { hour } from '../when.ts';
import type { DemoPhones, SlipText } from './phones.ts';
import { PLAYS } from './plays.ts';

/** The demo's phones; its pages are only answered where there are some. */
function phonesOf({ side }: Visit): DemoPhones {
  if (side.demo === null) throw new NothingHere('no demo');
  return side.demo;
}

/** The guest whose phone is in hand: a number of the address, else the first play's. */
function guestIn(visit: Visit): string {
  const asked = visit.query.get('guest') ?? visit.form.get('guest') ?? '';
  return /^\+1970555\d{4}$/.test(asked) ? asked : (PLAYS['outlet']?.phone ?? '');
}

/** A text with its link to a callout, which the demo opens here, under whatever address it runs. */
function textWords(body: string): VNode {
  const [, before = body, token = '', after = ''] =
    new RegExp(`^(.*?)https?://[^\\s]*${CALLOUT_PATH}([\\w-]{16})(.*)$`, 's').exec(body) ?? [];
  if (token === '') return quoted(body);
  return html`${quoted(before)}<a href=${`${CALLOUT_PATH}${token}`}>open callout</a>${after}`;
}

function slipTexts(visit: Visit, texts: readonly SlipText[], who: string): VNode {
  if (texts.length === 0) return html`<p class="faint">Nothing yet.</p>`;
  return html`<ol class="ledger">
    ${texts.map(
      (text) =>
        html`<li>
          <time datetime=${text.at}>${hour(text.at, visit.side.outfit.zone)}</time>
          <div class=${text.from === 'desk' ? 'desk' : ''}>
            <p class="who">${text.from === 'desk' ? 'Desk' : who}</p>
            <p>${textWords(text.body)}</p>
          </div>
        </li>`,
    )}
  </ol>`;
}

function callPart(visit: Visit, phones: DemoPhones, phone: string): VNode | null {
  const call = phones.call(phone);
  if (call === null) return null;
  const keys: readonly (readonly [string, string])[] =
    call.said === null
      ? [['0', 'Pick up']]
      : [
          ['1', 'Press 1'],
          ['2', 'Press 2'],
          ['3', 'Press 3'],
        ];
  return html`<div class="said" role="status">
    <p><strong>${call.said === null ? 'This phone rings.' : 'On the line:'}</strong> ${(call.said ?? []).join(' ')}</p>
    <form class="line" method="post" action="/demo/press">
      ${tokenField(visit.formToken)}
      <input type="hidden" name="phone" value=${phone} />
      <input type="hidden" name="guest" value=${guestIn(visit)} />
      ${keys.map(([key, words]) => html`<button name="key" value=${key}>${words}</button>`)}
      <button class="second" name="key" value="">Hang up</button>
    </form>
  </div>`;
}

async function running(visit: Visit): Promise<VNode> {
  const phones = phonesOf(visit);
  await phones.stopRinging();
  const { records } = visit.side;
  const guest = guestIn(visit);
  const id = await records.latestOf(guest);
  const sheet = id === null ? null : await records.callSheet(id);
  const { people } = await records.roster();
  const rung = people.filter(({ phone }) => phones.texts(phone).length > 0 || phones.call(phone) !== null);
  return html`<div class="columns even">
    <section class="slip">
      <h2>The guest’s phone</h2>
      ${callPart(visit, phones, guest)} ${slipTexts(visit, phones.texts(guest), 'Guest')}
    </section>
    <section class="slip">
      <h2>The desk’s side</h2>
      ${
        sheet === null
          ? html`<p class="faint">No conversation yet.</p>`
          : ledger(visit, sheet, sheet.flowDocuments as FlowBook | null)
      }
    </section>
    <section class="slip">
      <h2>Technicians’ phones</h2>
      ${rung.length === 0 ? html`<p class="faint">Nobody was woken.</p>` : null}
      ${rung.map(
        ({ name, phone }) =>
          html`<h3>${name}</h3>
            ${callPart(visit, phones, phone)} ${slipTexts(visit, phones.texts(phone), name)}`,
      )}
    </section>
  </div>`;
}

/** A guest's phone beside the desk's side of the same conversation, and the technicians' phones when they ring. */
export async function demoPage(visit: Visit): Promise<Answer> {
  const guest = guestIn(visit);
  const today = dayIn(visit.side.outfit.zone, visit.now);
  const rentals = await visit.side.records.rentals({ from: today, most: 30 });
  const body = html`
    <p class="faint">
      No phone company is connected, and every guest is made up. It is not a medical device and no substitute for
      emergency services.
    </p>
    <form class="line" method="post" action="/demo/play">
      ${tokenField(visit.formToken)}
      ${Object.entries(PLAYS).map(
        ([key, play]) => html`<button class="second" name="play" value=${key}>${play.name}</button>`,
      )}
    </form>
    <form class="line" method="get" action="/demo">
      <p>
        <label for="guest">Whose phone is in your hand</label>
        <select id="guest" name="guest">
          ${rentals.flatMap(({ stay, phones }) =>
            phones.map(
              (phone) =>
                html`<option value=${phone} selected=${phone === guest}>
                  ${stay.guestName}, ${stay.property.name} ${stay.room}, ${readablePhone(phone)}
                </option>`,
            ),
          )}
          <option value="+19705550199" selected=${guest === '+19705550199'}>a phone nobody knows</option>
        </select>
      </p>
      <p><button class="second">Take it</button></p>
    </form>
    <form class="line" method="post" action="/demo/text">
      ${tokenField(visit.formToken)}
      <input type="hidden" name="guest" value=${guest} />
      <p>
        <label for="words">Text the desk, as the guest</label>
        <input id="words" name="words" type="text" required maxlength="1600" size="40" autocomplete="off" />
      </p>
      <p><button>Send</button></p>
    </form>
    <div data-live=${`/demo/live?guest=${encodeURIComponent(guest)}`} data-every="2">${await running(visit)}</div>
    <p><a href="/">The owner’s sheets</a> need the link that the terminal printed.</p>
  `;
  return page(leaf(visit, { title: 'A phone to try it with', body, script: true, wide: true }));
}

export async function demoLive(visit: Visit): Promise<Answer> {
  return fragment(await running(visit));
}

const backTo = (guest: string): Answer => seeOther(`/demo?guest=${encodeURIComponent(guest)}`);

/** The guest in hand texts the desk. */
export async function demoText(visit: Visit): Promise<Answer> {
  const guest = guestIn(visit);
  const words = (visit.form.get('words') ?? '').trim();
  if (words !== '') await phonesOf(visit).send(guest, words.slice(0, 1600));
  return backTo(guest);
}

/** A guest is played: everything they say, one text after the other. */
export async function demoPlay(visit: Visit): Promise<Answer> {
  const play = PLAYS[visit.form.get('play') ?? ''];
  if (play === undefined) throw new NothingHere('no such play');
  for (const words of play.says) await phonesOf(visit).send(play.phone, words);
  return backTo(play.phone);
}

/** Whoever is rung picks up, presses a key, or hangs up. */
export async function demoPress(visit: Visit): Promise<Answer> {
  const key = visit.form.get('key') ?? '';
  if (/^[0-9*#]?$/.test(key)) await phonesOf(visit).press(visit.form.get('phone') ?? '', key);
  return backTo(guestIn(visit));
}
