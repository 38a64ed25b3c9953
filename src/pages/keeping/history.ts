import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { dayIn } from '../../time/calendar.ts';
import { quoted } from '../layout.ts';
import { ENDING_WORDS, matterOfLine } from '../night/told.ts';
import type { HistoryLine } from '../records.ts';
import type { Visit } from '../visit.ts';
import { dayName, hour } from '../when.ts';

const FIRST_WORDS = 120;

/** Conversations of a unit or a room, newest first, each with a way to its call sheet. */
export function history({ side, seal }: Visit, lines: readonly HistoryLine[]): VNode {
  const { zone } = side.outfit;
  if (lines.length === 0) return html`<p>Nobody has written about it yet.</p>`;
  return html`<ol class="ledger long">
    ${lines.map(
      (line) =>
        html`<li>
          <time datetime=${line.openedAt}>${dayName(dayIn(zone, line.openedAt))} ${hour(line.openedAt, zone)}</time>
          <div>
            <p>
              <a href=${`/night/${seal.id('conversation', line.id)}`}
                >${matterOfLine(side.desk.book(), { flows: line.flows, callouts: [] })}</a
              >${' '}
              — ${line.ending === null ? 'still open' : ENDING_WORDS[line.ending]}
            </p>
            <p class="faint">“${quoted(line.firstWords.slice(0, FIRST_WORDS))}”</p>
          </div>
        </li>`,
    )}
  </ol>`;
}
