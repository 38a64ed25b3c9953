import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { readablePhone } from '../../desk/callout/brief.ts';
import type { Cells } from '../../desk/told/cells.ts';
import { standingRental, tellByForm } from '../../desk/told/form.ts';
import type { About, Said } from '../../desk/told/form.ts';
import { dayIn, isDay } from '../../time/calendar.ts';
import { page, seeOther } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf, tokenField } from '../layout.ts';
import type { RentalLine } from '../records.ts';
import { NothingHere, rowOf, signedIn } from '../visit.ts';
import type { Visit } from '../visit.ts';
import { dayName } from '../when.ts';
import { cellsIn, tableForm } from './fields.ts';
import type { Choices } from './fields.ts';

const MOST = 200;

async function choicesOf({ side }: Visit): Promise<Choices> {
  const { properties, units } = await side.records.places();
  return {
    property: properties.map(({ name }) => name),
    unit: units.map(({ tag }) => tag),
    age_group: ['adult', 'child'],
  };
}

function line({ seal }: Visit, { stay, phones }: RentalLine, today: string): VNode {
  const { property, unit, order, firstDay, lastDay, people, ageGroup } = stay;
  const standing = lastDay < today ? 'over' : firstDay > today ? 'to come' : null;
  const who = [
    people === 1 ? '1 person' : `${people} people`,
    ageGroup === 'child' ? 'a child' : '',
    order === null ? 'no order on record' : `order by ${order.orderedBy}`,
  ].filter((words) => words !== '');
  return html`<li>
    <span class="when"
      >${dayName(firstDay)}<br />to ${dayName(lastDay)}${standing === null ? null : html`<br /><small>${standing}</small>`}</span
    >
    <div class="told">
      <p>
        <a href=${`/rentals/${seal.id('rental', stay.rentalId)}`}>${stay.guestName}</a>, ${phones.map(readablePhone).join(', ')}
        ${stay.fragile ? html` — <strong>fragile</strong>` : null}
      </p>
      <p>
        <a href=${`/places/properties/${seal.id('property', property.id)}/rooms/${encodeURIComponent(stay.room)}`}
          >${property.name} ${stay.room}</a
        >, unit <a href=${`/places/units/${seal.id('unit', unit.id)}`}>${unit.tag}</a>
      </p>
      <p class="faint">${who.join(', ')}</p>
    </div>
  </li>`;
}

/** Rentals that stand or are to come; earlier ones by a day. */
export async function rentalsPage(visit: Visit): Promise<Answer> {
  const today = dayIn(visit.side.outfit.zone, visit.now);
  const asked = visit.query.get('from') ?? '';
  const from = isDay(asked) ? asked : today;
  const lines = await visit.side.records.rentals({ from, most: MOST });
  const body = html`
    <form class="line" method="get" action="/rentals">
      <p>
        <label for="from">Rentals that end on this day or later</label>
        <input id="from" type="date" name="from" value=${from} />
      </p>
      <p><button>Look</button></p>
      <p><a class="tap" href="/rentals/new">Enter a rental</a></p>
    </form>
    ${
      lines.length === 0
        ? html`<p>No rental ends on that day or later.</p>`
        : html`<ol class="ledger long">
            ${lines.map((each) => line(visit, each, today))}
          </ol>`
    }
    <p class="faint">
      ${lines.length === MOST ? `The first ${MOST} are shown, those that end soonest; a later day has the others. ` : ''}Many
      at once are told with npm run import.
    </p>
  `;
  return page(leaf(visit, { title: 'Rentals', body }));
}

async function newLeaf(visit: Visit, cells: Cells, faults: readonly Said[]): Promise<Answer> {
  const body = tableForm(visit, {
    table: 'rentals',
    action: '/rentals/new',
    button: 'Enter it',
    cells,
    isNew: true,
    faults,
    choices: await choicesOf(visit),
  });
  return page(leaf(visit, { title: 'A new rental', body }), faults.length === 0 ? 200 : 422);
}

export function newRentalPage(visit: Visit): Promise<Answer> {
  const today = dayIn(visit.side.outfit.zone, visit.now);
  return newLeaf(visit, { first_day: today, people: '1', age_group: 'adult' }, []);
}

export async function enterRental(visit: Visit): Promise<Answer> {
  const cells = cellsIn(visit.form, 'rentals');
  const { faults } = await tellByForm(visit.side.told, { table: 'rentals', about: { what: 'new' }, cells });
  if (faults.length > 0) return newLeaf(visit, cells, faults);
  visit.side.note('a rental was entered by page', { person: signedIn(visit).id });
  return seeOther('/rentals');
}

type Standing = NonNullable<Awaited<ReturnType<typeof standingRental>>> & {
  readonly rentalId: number;
  readonly about: About;
};

async function standing(visit: Visit): Promise<Standing> {
  const rentalId = rowOf(visit, 'rental');
  const found = await standingRental(visit.side.told, rentalId);
  if (found === null) throw new NothingHere('no such rental');
  return { ...found, rentalId, about: { what: 'standing', cells: found.cells, rentalId } };
}

function endings(visit: Visit, { cells, hasConversations, rentalId }: Standing): VNode {
  const path = `/rentals/${visit.seal.id('rental', rentalId)}`;
  const today = dayIn(visit.side.outfit.zone, visit.now);
  const first = cells['first_day'] ?? '';
  return html`<h2>End it</h2>
    <form class="line" method="post" action=${`${path}/end`}>
      ${tokenField(visit.formToken)}
      <p>
        <label for="last-day">The day on which the unit is collected</label>
        <input id="last-day" type="date" name="last_day" value=${today < first ? first : today} />
      </p>
      <p><button class="second">End it on that day</button></p>
    </form>
    ${
      hasConversations
        ? html`<p class="faint">The guest has written about it, so it stays on record.</p>`
        : html`<form method="post" action=${`${path}/cancel`}>
            ${tokenField(visit.formToken)}
            <button class="plain">Take it off the records: nobody came</button>
          </form>`
    }`;
}

async function rentalLeaf(visit: Visit, shown: Standing, cells: Cells, faults: readonly Said[]): Promise<Answer> {
  const path = `/rentals/${visit.seal.id('rental', shown.rentalId)}`;
  const body = html`
    ${shown.notes.map(({ message }) => html`<p class="said"><strong>To know:</strong> ${message}.</p>`)}
    ${tableForm(visit, {
      table: 'rentals',
      action: path,
      button: 'Keep the changes',
      cells,
      isNew: false,
      faults,
      choices: await choicesOf(visit),
    })}
    ${endings(visit, shown)}
  `;
  const title = `Rental of ${shown.cells['guest'] ?? ''}`;
  return page(leaf(visit, { title, body }), faults.length === 0 ? 200 : 422);
}

export async function rentalPage(visit: Visit): Promise<Answer> {
  const shown = await standing(visit);
  return rentalLeaf(visit, shown, shown.cells, []);
}

async function tell(visit: Visit, cellsFrom: (shown: Standing) => Cells, what: string): Promise<Answer> {
  const shown = await standing(visit);
  const cells = cellsFrom(shown);
  const { faults } = await tellByForm(visit.side.told, { table: 'rentals', about: shown.about, cells });
  if (faults.length > 0) return rentalLeaf(visit, shown, cells, faults);
  visit.side.note(`a rental was ${what} by page`, { person: signedIn(visit).id, rental: shown.rentalId });
  return seeOther(what === 'cancelled' ? '/rentals' : `/rentals/${visit.seal.id('rental', shown.rentalId)}`);
}

export function changeRental(visit: Visit): Promise<Answer> {
  return tell(visit, () => cellsIn(visit.form, 'rentals'), 'changed');
}

/** Gives it another last day; all else stays. */
export function endRental(visit: Visit): Promise<Answer> {
  const lastDay = (visit.form.get('last_day') ?? '').slice(0, 40);
  return tell(visit, ({ cells }) => ({ ...cells, last_day: lastDay }), 'ended');
}

export function cancelRental(visit: Visit): Promise<Answer> {
  return tell(visit, ({ cells }) => ({ ...cells, cancelled: 'yes' }), 'cancelled');
}
