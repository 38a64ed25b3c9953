import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { gapsAndOverlaps } from '../../roster/gaps.ts';
import type { RosterFlaw } from '../../roster/gaps.ts';
import { ordersBetween } from '../../roster/orders.ts';
import type { OrderSpan } from '../../roster/orders.ts';
import { whoIsOnCall } from '../../roster/on-call.ts';
import type { Person, Roster } from '../../roster/roster.ts';
import { daysLater, instantAt, isDay } from '../../time/calendar.ts';
import { page, seeOther } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf } from '../layout.ts';
import { signedIn } from '../visit.ts';
import type { Visit } from '../visit.ts';
import { dayAndHour, dayName, hour } from '../when.ts';
import { weekOf } from './nights.ts';
import type { Row, Week } from './nights.ts';
import { picture } from './picture.ts';
import { NOBODY, canBeSwapped, swapForms, swapWords } from './swaps.ts';

const inOrder = (people: readonly Person[]): string =>
  people.length === 0 ? 'nobody at all: the roster names no one' : people.map(({ name }) => name).join(', then ');

function ownersOf({ people }: Roster): string {
  const owners = people.filter(({ role }) => role === 'owner').map(({ name }) => name);
  return owners.length === 0 ? 'nobody: the roster names no owner' : owners.join(' and ');
}

function flawWords(roster: Roster, flaw: RosterFlaw): string {
  const { zone } = roster;
  const span = `from ${dayAndHour(flaw.from, zone)} to ${dayAndHour(flaw.until, zone)}`;
  if (flaw.kind === 'gap') return `Nobody is on shift ${span}: callouts go to ${ownersOf(roster)}.`;
  const names = flaw.personIds.map(
    (id) => roster.people.find((person) => person.id === id)?.name ?? 'someone who left',
  );
  return `${names.join(' and ')} are both at position ${flaw.position} ${span}: they are tried one after the other.`;
}

function flawList(roster: Roster, flaws: readonly RosterFlaw[]): VNode {
  if (flaws.length === 0) return html`<p>No gaps and no overlaps in these seven nights.</p>`;
  return html`<ul class="plain">
    ${flaws.map((flaw) => html`<li><strong>${flaw.kind === 'gap' ? 'Gap' : 'Overlap'}.</strong> ${flawWords(roster, flaw)}</li>`)}
  </ul>`;
}

function spanLine(span: OrderSpan, zone: string, now: string): VNode {
  const running = span.from <= now && now < span.until;
  return html`<li>
    <span class="when">${hour(span.from, zone)}–${hour(span.until, zone)}</span>
    <div><p>${inOrder(span.people)}${running ? html` <strong>— now</strong>` : null}</p></div>
  </li>`;
}

/** A night in words, with the first tap of a swap, or the second where it was chosen. */
function nightLine(visit: Visit, roster: Roster, week: Week, { day }: Row): VNode {
  const people = whoIsOnCall(roster, instantAt(day, '23:59', roster.zone));
  const chosen = week.chosen === day;
  const open = canBeSwapped(day, week.tonight);
  return html`<li id=${`night-${day}`}>
    <span class="when">${dayName(day)}${day === week.tonight ? html`<br /><small>tonight</small>` : null}</span>
    <div>
      <p>${inOrder(people)}</p>
      ${swapWords(roster, day).map((words) => html`<p class="hand">${words}</p>`)}
      ${
        open && !chosen
          ? html`<p>
              <a class="tap" href=${`/roster?from=${week.first}&night=${day}#night-${day}`}
                >Swap<span class="unseen"> the night of ${dayName(day)}</span></a
              >
            </p>`
          : null
      }
      ${open && chosen ? swapForms(visit, roster, { day, first: week.first }) : null}
    </div>
  </li>`;
}

async function rosterLeaf(visit: Visit, notDone: string | null, status: number): Promise<Answer> {
  const roster = await visit.side.records.roster();
  const { zone } = roster;
  const week = weekOf(visit, roster);
  const { first } = week;
  const flaws = gapsAndOverlaps(roster, week.from, week.until);
  const tonight = ordersBetween(
    roster,
    instantAt(week.tonight, '18:00', zone),
    instantAt(daysLater(week.tonight, 1), '10:00', zone),
  );
  const body = html`
    ${notDone === null ? null : html`<p class="said" role="alert">${notDone}</p>`}
    <h2>Tonight, ${dayName(week.tonight)}: who is tried, in order</h2>
    <ol class="ledger long">
      ${tonight.map((span) => spanLine(span, zone, visit.now))}
    </ol>
    <h2>The week</h2>
    ${picture(roster, week, flaws, visit.now)} ${flawList(roster, flaws)}
    <h2>Night by night, at midnight</h2>
    <ol class="ledger long">
      ${week.rows.map((row) => nightLine(visit, roster, week, row))}
    </ol>
    <p>
      <a href=${`/roster?from=${daysLater(first, -7)}`}>The week before</a> ·${' '}
      ${visit.query.get('from') === null ? null : html`<a href="/roster">From tonight</a> · `}
      <a href=${`/roster?from=${daysLater(first, 7)}`}>The week after</a>
    </p>
    <p class="faint">
      Times are those of ${zone}. The week’s pattern and its holidays come from a file: npm run roster -- FILE. By text, ON CALL
      tells who is on, and SWAP tonight WITH a name swaps.
    </p>
  `;
  return page(leaf(visit, { title: 'Roster', body }), status);
}

/** Who is on call: tonight, this week as a picture, what is wrong with it, and swaps. */
export function rosterPage(visit: Visit): Promise<Answer> {
  return rosterLeaf(visit, null, 200);
}

/** Two people take each other's place in a night, or all get their own again. */
export async function swapNight(visit: Visit): Promise<Answer> {
  const { seal, form, side } = visit;
  const day = form.get('night') ?? '';
  const personId = seal.open('person', form.get('person') ?? '');
  const other = form.get('with') ?? '';
  const withId = other === NOBODY ? null : seal.open('person', other);
  const isOurs = personId !== null && (other === NOBODY || withId !== null);
  const notDone = isOurs
    ? await side.desk.swapChosen({ askingId: signedIn(visit).id, day, personId, withId })
    : 'That was no choice of this page. Load it again and choose once more.';
  if (notDone !== null) return rosterLeaf(visit, notDone, 422);
  const from = form.get('from') ?? '';
  return seeOther(`/roster?from=${isDay(from) ? from : day}#night-${day}`);
}
