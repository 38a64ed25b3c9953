import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { Cells } from '../../desk/told/cells.ts';
import type { FormTable, Said } from '../../desk/told/form.ts';
import { templateOf } from '../../desk/told/template.ts';
import type { ColumnHelp } from '../../desk/told/template.ts';
import { tokenField } from '../layout.ts';
import type { Visit } from '../visit.ts';

/** Only a rental is taken away, and by a button of its own. */
const NOT_IN_FORMS = new Set(['cancelled']);
const DATES = new Set(['first_day', 'last_day']);
const LONGEST_CELL = 400;

const UNITS: readonly (readonly [RegExp, string])[] = [
  [/ lpm$/, ', L/min'],
  [/ ml$/, ', mL'],
  [/ m$/, ', m'],
  [/ w$/, ', W'],
  [/co2/, 'CO₂'],
];

/** "rated_elevation_m" is "Rated elevation, m". */
export function labelOf(heading: string): string {
  const words = UNITS.reduce((label, [unit, shown]) => label.replace(unit, shown), heading.replaceAll('_', ' '));
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function columnsFor(table: FormTable): readonly ColumnHelp[] {
  return templateOf(table).columns.filter(({ heading }) => !NOT_IN_FORMS.has(heading));
}

/** What a form says, by heading: a box that is not ticked says no. */
export function cellsIn(form: URLSearchParams, table: FormTable): Cells {
  return Object.fromEntries(
    columnsFor(table).map(({ heading, yesOrNo }) => {
      const written = form.get(heading) ?? '';
      return [heading, yesOrNo ? (written === 'yes' ? 'yes' : 'no') : written.slice(0, LONGEST_CELL)];
    }),
  );
}

/** Names to choose from, by the heading of the field they fill. */
export type Choices = Readonly<Record<string, readonly string[]>>;

export interface TableForm {
  readonly table: FormTable;
  readonly action: string;
  readonly button: string;
  readonly cells: Cells;
  readonly isNew: boolean;
  readonly faults: readonly Said[];
  readonly choices: Choices;
}

function said(id: string, faults: readonly Said[]): VNode | null {
  if (faults.length === 0) return null;
  return html`<p class="fault" id=${`${id}-fault`}>${faults.map(({ message }) => message).join('. ')}.</p>`;
}

function input(
  column: ColumnHelp,
  value: string,
  described: Readonly<Record<string, unknown>>,
  choices: Choices,
): VNode {
  const { heading: name, required } = column;
  const id = `field-${name}`;
  const named = choices[name];
  if (named !== undefined) {
    const known = named.includes(value) || value === '' ? named : [value, ...named];
    return html`<select id=${id} name=${name} ...${described}>
      ${required ? html`<option value="">choose one</option>` : null}
      ${known.map((each) => html`<option value=${each} selected=${each === value}>${each}</option>`)}
    </select>`;
  }
  const type = DATES.has(name) ? 'date' : 'text';
  return html`<input id=${id} type=${type} name=${name} value=${value} maxlength=${LONGEST_CELL} ...${described} />`;
}

/** A field with what it is for, what is allowed, and what is wrong with it beside it. */
function field(column: ColumnHelp, { cells, isNew, faults, choices }: TableForm): VNode {
  const { heading, about, allowed, required, identity, yesOrNo } = column;
  const id = `field-${heading}`;
  const value = cells[heading] ?? '';
  const wrong = faults.filter((fault) => fault.heading === heading);
  if (identity && !isNew) {
    return html`<div class="field">
      <p><span class="label">${labelOf(heading)}</span> <bdi class="words">${value}</bdi></p>
      <input type="hidden" name=${heading} value=${value} />
      ${said(id, wrong)}
    </div>`;
  }
  const described = {
    'aria-describedby': [`${id}-hint`, ...(wrong.length > 0 ? [`${id}-fault`] : [])].join(' '),
    ...(wrong.length > 0 ? { 'aria-invalid': 'true' } : {}),
  };
  if (yesOrNo) {
    return html`<div class="field">
      <label class="check"
        ><input id=${id} type="checkbox" name=${heading} value="yes" checked=${value === 'yes'} ...${described} />
        ${labelOf(heading)}</label
      >
      <p class="hint" id=${`${id}-hint`}>${about}</p>
      ${said(id, wrong)}
    </div>`;
  }
  const offered = choices[heading] !== undefined || DATES.has(heading);
  return html`<div class=${wrong.length > 0 ? 'field wrong' : 'field'}>
    <label for=${id}>${labelOf(heading)}${required ? '' : html` <small>may be left out</small>`}</label>
    ${input(column, value, described, choices)}
    <p class="hint" id=${`${id}-hint`}>${about}${offered ? '' : `: ${allowed}`}</p>
    ${said(id, wrong)}
  </div>`;
}

/** What is wrong, at the head of a form, each with a way to its field. */
function faultList(faults: readonly Said[]): VNode | null {
  if (faults.length === 0) return null;
  return html`<div class="said" role="alert">
    <p><strong>Nothing was kept.</strong> To be put right:</p>
    <ul>
      ${faults.map(({ heading, message }) =>
        heading === null
          ? html`<li>${message}</li>`
          : html`<li><a href=${`#field-${heading}`}>${labelOf(heading)}</a>: ${message}</li>`,
      )}
    </ul>
  </div>`;
}

/** A form for one row of a table, new or on record, with the rules of its import. */
export function tableForm({ formToken }: Visit, form: TableForm): VNode {
  return html`${faultList(form.faults)}
    <form class="sheet-form" method="post" action=${form.action} novalidate>
      ${tokenField(formToken)} ${columnsFor(form.table).map((column) => field(column, form))}
      <p><button>${form.button}</button></p>
    </form>`;
}
