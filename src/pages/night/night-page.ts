import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { readablePhone } from '../../desk/callout/brief.ts';
import { dayIn, daysLater } from '../../time/calendar.ts';
import { fragment, page } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { dangerWord, leaf, quoted } from '../layout.ts';
import type { NightLine, NightPart } from '../records.ts';
import type { Visit } from '../visit.ts';
import { dayName, hour, nightOfInstant, spanInWords } from '../when.ts';
import { filters } from './filters.ts';
import { askedOf } from './query.ts';
import { strip } from './strip.ts';
import type { Asked } from './query.ts';
import { ENDING_WORDS, matterOfLine, placeWords, takenWords, wasDanger } from './told.ts';

/** Enough of the first words to know the guest again. */
const FIRST_WORDS = 120;

function line(visit: Visit, told: NightLine, many: boolean): VNode {
  const { side, seal } = visit;
  const { zone } = side.outfit;
  const danger = wasDanger(told);
  const ended = told.ending === null ? 'still open' : ENDING_WORDS[told.ending];
  const until = told.endedAt ?? told.lastGuestAt;
  return html`<li>
    <time datetime=${told.openedAt}>
      ${many ? html`<small>${dayName(dayIn(zone, told.openedAt))}</small><br />` : null}${hour(told.openedAt, zone)}
    </time>
    <div class="told">
      <div>
        <p>${danger ? html`${dangerWord()} ` : null}<a href=${`/night/${seal.id('conversation', told.id)}`}>${matterOfLine(side.desk.book(), told)}</a> — ${ended}</p>
        <p class="faint">“${quoted(told.firstWords.slice(0, FIRST_WORDS))}”</p>
      </div>
      <div>
        <p>${told.guestName ?? `Guest not known, ${readablePhone(told.phone)}`}, ${placeWords(told)}</p>
        <p class="faint">${told.guestMessages} ${told.guestMessages === 1 ? 'message' : 'messages'} in ${spanInWords(told.openedAt, until)}${told.lang === 'es' ? ', in Spanish' : ''}</p>
        ${takenWords(told).map((words) => html`<p class="hand">${words}</p>`)}
      </div>
    </div>
  </li>`;
}

function summary(part: NightPart): string {
  const { length } = part.lines;
  const dangers = part.lines.filter(wasDanger).length;
  const open = part.lines.filter((told) => told.ending === null).length;
  const ringing = new Set(
    part.lines.flatMap((told) => told.callouts.filter(({ status }) => status === 'ringing').map(({ id }) => id)),
  ).size;
  return [
    `${length}${part.more ? ' or more' : ''} ${length === 1 ? 'conversation' : 'conversations'}`,
    dangers === 0 ? 'no danger' : `${dangers} with danger`,
    open === 0 ? 'none open' : `${open} still open`,
    ...(ringing === 0 ? [] : [`${ringing} ${ringing === 1 ? 'callout' : 'callouts'} that nobody has taken`]),
  ].join(', ');
}

/** The lines themselves: what changes while a night runs. */
function lines(visit: Visit, { first, last, query }: Asked, part: NightPart): VNode {
  const oldest = part.lines.at(-1);
  const further = new URLSearchParams(visit.query);
  if (oldest !== undefined) further.set('below', `${oldest.openedAt}_${visit.seal.id('conversation', oldest.id)}`);
  const whole = first === last && query.below === null;
  return html`<div>
    <p role="status">${summary(part)}.</p>
    ${whole && part.lines.length > 0 ? strip(part.lines, first, visit.side.outfit.zone) : null}
    ${
      part.lines.length === 0
        ? html`<p>Nothing is written here.</p>`
        : html`<ol class="ledger">
            ${part.lines.map((told) => line(visit, told, first !== last))}
          </ol>`
    }
    ${part.more ? html`<p><a href=${`/night?${further.toString()}`}>The next sheet, further back</a></p>` : null}
  </div>`;
}

const nightName = (day: string): string => `${dayName(day)} to ${dayName(daysLater(day, 1))}`;

/** What happened in a night, newest first. */
export async function nightPage(visit: Visit): Promise<Answer> {
  const asked = askedOf(visit);
  const { first, last } = asked;
  const part = await visit.side.records.night(asked.query);
  const tonight = nightOfInstant(visit.now, visit.side.outfit.zone);
  const running = last === tonight && asked.query.below === null;
  const live = `/night/live?${visit.query.toString()}`;
  const one = first === last;
  const body = html`
    ${await filters(visit, asked)}
    <nav aria-label="Nights">
      ${one ? html`<a href=${`/night?night=${daysLater(first, -1)}`}>The night before</a>` : null}
      ${one && first < tonight ? html` · <a href=${`/night?night=${daysLater(first, 1)}`}>The night after</a>` : null}
    </nav>
    <div ...${running ? { 'data-live': live, 'data-every': '10' } : {}}>${lines(visit, asked, part)}</div>
  `;
  const title = one
    ? `The night of ${nightName(first)}`
    : `Nights from ${dayName(first)} to ${dayName(daysLater(last, 1))}`;
  return page(leaf(visit, { title, body, script: running }));
}

/** The same lines alone, for the script. */
export async function nightLive(visit: Visit): Promise<Answer> {
  const asked = askedOf(visit);
  return fragment(lines(visit, asked, await visit.side.records.night(asked.query)));
}
