import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { daysLater } from '../../time/calendar.ts';
import { csvFile, page } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { csvOf } from '../csv.ts';
import { leaf, quoted } from '../layout.ts';
import { choice } from '../night/filters.ts';
import { NothingHere } from '../visit.ts';
import type { Visit } from '../visit.ts';
import { dayName, nightOfInstant, spanOfNight } from '../when.ts';
import { chart } from './chart.ts';
import { nightsFrom, numbersOf } from './tables.ts';
import type { NumbersTable } from './tables.ts';

const LENGTHS = ['7', '14', '28'] as const;

/** What a text part may cost; a dollar is no carrier's price, and a sign of dollars where cents are meant. */
const CENTS = { above: 0, upTo: 100 } as const;

interface Asked {
  readonly nights: readonly string[];
  readonly centsAPart: number | null;
  /** The price as it was written, where it is none. */
  readonly noPrice: string | null;
  readonly length: string;
}

function askedOf({ query, side, now }: Visit): Asked {
  const length = LENGTHS.find((each) => each === query.get('nights')) ?? '14';
  const last = nightOfInstant(now, side.outfit.zone);
  const written = (query.get('cents') ?? '').trim().slice(0, 20);
  const cents = /^\d+(\.\d+)?$/.test(written) ? Number(written) : Number.NaN;
  const isPrice = cents > CENTS.above && cents <= CENTS.upTo;
  return {
    nights: nightsFrom(daysLater(last, 1 - Number(length)), last),
    centsAPart: isPrice ? cents : written === '' ? side.centsAPart : null,
    noPrice: isPrice || written === '' ? null : written,
    length,
  };
}

async function tables(
  visit: Visit,
  { nights, centsAPart }: Pick<Asked, 'nights' | 'centsAPart'>,
): Promise<readonly NumbersTable[]> {
  const { zone } = visit.side.outfit;
  const [first = '', last = ''] = [nights[0], nights.at(-1)];
  const counted = await visit.side.records.counted(spanOfNight(first, zone).from, spanOfNight(last, zone).until);
  return numbersOf({ counted, nights, zone, book: visit.side.desk.book(), centsAPart });
}

function figure(table: NumbersTable, query: string): VNode {
  return html`<figure>
    <figcaption>${table.title} <small>(${table.unit})</small></figcaption>
    ${chart(table) ?? html`<p>Nothing of it in these nights.</p>`}
    <details>
      <summary>The table of ${table.title.toLowerCase()}</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">${table.of}</th>
            <th scope="col" class="figure">${table.unit}</th>
          </tr>
        </thead>
        <tbody>
          ${table.rows.map(
            ([label, value]) =>
              html`<tr>
                <td>${label}</td>
                <td class="figure">${value ?? '–'}</td>
              </tr>`,
          )}
        </tbody>
      </table>
      <p><a href=${`/numbers/${table.name}.csv?${query}`}>${table.title} as CSV</a></p>
    </details>
  </figure>`;
}

export async function numbersPage(visit: Visit): Promise<Answer> {
  const asked = askedOf(visit);
  const all = await tables(visit, asked);
  const query = new URLSearchParams({ nights: asked.length, cents: String(asked.centsAPart ?? '') }).toString();
  const body = html`
    <form class="line" method="get" action="/numbers">
      ${choice(
        'nights',
        'The last nights',
        LENGTHS.map((each) => [each, each] as const),
        asked.length,
      )}
      <p>
        <label for="cents">What the carrier takes for a text part, in cents</label>
        <input
          id="cents"
          name="cents"
          inputmode="decimal"
          size="6"
          value=${asked.noPrice ?? asked.centsAPart ?? ''}
          ...${asked.noPrice === null ? {} : { 'aria-invalid': 'true', 'aria-describedby': 'cents-fault' }}
        />
        ${
          asked.noPrice === null
            ? null
            : html`<span class="fault" id="cents-fault"
                >${quoted(asked.noPrice)} came; allowed: a number above ${CENTS.above}, up to ${CENTS.upTo} cents, as 0.79.</span
              >`
        }
      </p>
      <p><button>Count</button></p>
    </form>
    <div class="pair">${all.map((table) => figure(table, query))}</div>
  `;
  const title = `Nights from ${dayName(asked.nights[0] ?? '')} to ${dayName(asked.nights.at(-1) ?? '')}`;
  return page(leaf(visit, { title, body }));
}

export async function numbersCsv(visit: Visit): Promise<Answer> {
  const name = visit.params['name'] ?? '';
  const table = (await tables(visit, askedOf(visit))).find((each) => `${each.name}.csv` === name);
  if (table === undefined) throw new NothingHere('no such table');
  return csvFile(`nightbell-${name}`, csvOf([table.of, table.unit], table.rows));
}
