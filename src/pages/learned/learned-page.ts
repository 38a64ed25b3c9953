import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { FEWEST_FAULTS, WRONG_IN_ONE_OF } from '../../care/failing.ts';
import type { Delivery } from '../../desk/lists/deliveries.ts';
import type { Failing } from '../../desk/lists/faults.ts';
import type { NotUnderstood, StepStanding } from '../../desk/lists/told.ts';
import { flowOf } from '../../flow/book.ts';
import { dayIn } from '../../time/calendar.ts';
import { page } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf, quoted } from '../layout.ts';
import { choice } from '../night/filters.ts';
import type { Visit } from '../visit.ts';
import { dayName } from '../when.ts';

/** How far back it looks; the lists of the terminal go further. */
const SPANS = ['14', '28', '90'] as const;
const MOST_ROWS = 25;
const LONGEST_WORDS = 120;

interface Column<Row> {
  readonly name: string;
  readonly figure?: true;
  readonly of: (row: Row) => unknown;
}

/** A list as a table, its head beside it for those who hear it; a sentence where it is empty. */
function table<Row>(title: string, rows: readonly Row[], empty: string, columns: readonly Column<Row>[]): VNode {
  const shown = rows.slice(0, MOST_ROWS);
  const align = ({ figure }: Column<Row>): string | undefined => (figure === true ? 'figure' : undefined);
  return html`<h2>${title}</h2>
    ${
      rows.length === 0
        ? html`<p>${empty}</p>`
        : html`<div class="scroll" tabindex="0" role="group" aria-label=${title}>
            <table>
              <thead>
                <tr>
                  ${columns.map((column) => html`<th scope="col" class=${align(column)}>${column.name}</th>`)}
                </tr>
              </thead>
              <tbody>
                ${shown.map(
                  (row) =>
                    html`<tr>
                      ${columns.map((column) => html`<td class=${align(column)}>${column.of(row)}</td>`)}
                    </tr>`,
                )}
              </tbody>
            </table>
          </div>`
    }
    ${rows.length > MOST_ROWS ? html`<p class="faint">And ${rows.length - MOST_ROWS} more: <code>npm run lists</code>.</p>` : null}`;
}

function failing(what: 'Unit' | 'Room', all: readonly Failing[]): VNode {
  const found = all.filter(({ verdict }) => verdict !== 'fine');
  const none = `None of ${all.length} that were rented.`;
  return table(`${what}s that fail too often`, found, none, [
    { name: what, of: ({ name }) => name },
    {
      name: 'What to do',
      of: ({ verdict }) => (verdict === 'pull' ? html`<strong>Pull for service</strong>` : 'Watch'),
    },
    { name: 'Faults', figure: true, of: ({ faults }) => faults },
    { name: 'Days rented', figure: true, of: ({ rentalDays }) => rentalDays },
    { name: 'Rentals with a fault', figure: true, of: ({ faultyRentals }) => faultyRentals },
    {
      name: 'The others',
      of: ({ othersDaysAFault: days }) => (days === null ? 'none' : `one in ${days.toFixed(0)} days`),
    },
    {
      name: 'By chance',
      figure: true,
      of: ({ raised }) => (raised < 0.0001 ? 'under 0.01%' : `${(100 * raised).toPrecision(2)}%`),
    },
  ]);
}

const stepLink = (step: string | null): unknown =>
  step?.includes('.') === true ? html`<a href=${`/flows/${flowOf(step)}`}>${step}</a>` : 'first text';

function words(said: readonly NotUnderstood[]): VNode {
  return table('Said and not understood', said, 'Nothing.', [
    { name: 'Times', figure: true, of: ({ times }) => times },
    { name: 'Words', of: (each) => quoted(each.words.slice(0, LONGEST_WORDS)) },
    { name: 'In', of: ({ lang }) => lang },
    { name: 'At the step', of: ({ step }) => stepLink(step) },
  ]);
}

function steps(hard: readonly StepStanding[]): VNode {
  return table('Steps at which guests give up, or are not understood', hard, 'None.', [
    { name: 'Step', of: ({ step }) => stepLink(step) },
    { name: 'In', of: ({ lang }) => lang },
    { name: 'Asked', figure: true, of: ({ asked }) => asked },
    { name: 'Not understood', figure: true, of: ({ missed }) => missed },
    { name: 'Gave up', figure: true, of: ({ gaveUp }) => gaveUp },
  ]);
}

function deliveries(day: string, of: readonly Delivery[]): VNode {
  return table(`Units to bring on ${dayName(day)}`, of, 'None.', [
    {
      name: 'Unit',
      of: ({ stay, toPull }) =>
        toPull ? html`${stay.unit.tag}, <strong>pull for service: bring another</strong>` : stay.unit.tag,
    },
    { name: 'Where', of: ({ stay }) => `${stay.property.name}, ${stay.room}` },
    { name: 'For', of: ({ stay }) => quoted(stay.guestName) },
    { name: 'Until', of: ({ stay }) => dayName(stay.lastDay) },
    { name: 'Outlets told of', figure: true, of: ({ outlets }) => outlets.length },
    { name: 'Bottle lasts', figure: true, of: ({ bottle }) => `${bottle.hours} h` },
  ]);
}

/** What the nights have taught: what to pull for service, what was not understood, where guests give up, what to bring. */
export async function learnedPage(visit: Visit): Promise<Answer> {
  const { side, now, query } = visit;
  const span = SPANS.find((each) => each === query.get('days')) ?? '28';
  const days = Number(span);
  const lists = side.lists();
  const { units, rooms } = await lists.failing(days);
  const today = dayIn(side.outfit.zone, now);
  const options = SPANS.map((each) => [each, each] as const);
  const body = html`
    <form class="line" method="get" action="/learned">
      ${choice('days', 'The last days', options, span)}
      <p><button>Look</button></p>
    </form>
    ${failing('Unit', units)} ${failing('Room', rooms)}
    <p class="faint">
      Each against all the others, by an exact Poisson test with Holm’s correction: one list in ${` ${WRONG_IN_ONE_OF} `}
      names anything wrongly, and nothing is named on fewer than ${` ${FEWEST_FAULTS} `} faults. “Watch” would be too often
      for one looked at alone.
    </p>
    ${words(await lists.notUnderstood(days))} ${steps(await lists.hardSteps(days))}
    ${deliveries(today, await lists.deliveries(today, days))}
  `;
  return page(leaf(visit, { title: 'What the nights have taught', body }));
}
