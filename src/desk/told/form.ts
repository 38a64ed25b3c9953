import { phones as phonesCell } from './cell.ts';
import { cellsOf } from './cells.ts';
import type { Cells } from './cells.ts';
import type { Known, TableName, Written } from './entries.ts';
import type { RentalsNear, ToldRecords } from './import.ts';
import { planRows, readOneRow, tableKinds } from './look.ts';
import { headingOf } from './table-kind.ts';
import { NO_MAP } from './told.ts';

/** Tables of which a form tells one row. People are entered with the roster. */
export type FormTable = Exclude<TableName, 'people'>;

/** What a form is about: a new one, or the one on record under a key; a rental has its number. */
export type About =
  | { readonly what: 'new' }
  | { readonly what: 'standing'; readonly cells: Cells; readonly rentalId: number | null };

export interface Told {
  readonly table: FormTable;
  readonly about: About;
  /** As they were written into the form, by heading. */
  readonly cells: Cells;
}

/** Something that is wrong, or should be known, of a field by its heading; of the whole with null. */
export interface Said {
  readonly heading: string | null;
  readonly message: string;
}

export interface FormOutcome {
  /** With any of these nothing is written. */
  readonly faults: readonly Said[];
  readonly notes: readonly Said[];
}

/** Line breaks and other signs that nobody sees have no place in a name or an address. */
// eslint-disable-next-line no-control-regex
const UNSEEN = /[\u0000-\u001F\u007F\u0085\u2028\u2029]+/g;
const clean = (cell: string): string => cell.replaceAll(UNSEEN, ' ').trim();

const ALREADY = 'there is one on record already; open that one and change it';

function near({ cells, about }: Told): RentalsNear {
  return {
    rentalId: about.what === 'standing' ? about.rentalId : null,
    unit: cells['unit'] ?? '',
    phones: phonesCell.read(cells['phones'] ?? '') ?? [],
    booking: cells['rental'] ?? '',
  };
}

interface FormPlan extends FormOutcome {
  readonly written: readonly Written[];
}

/** The row by the same rules as an import of it. The one that is changed does not stand in its own way. */
function planForm({ table, about, cells: filled }: Told, known: Known): FormPlan {
  const kind = tableKinds(NO_MAP)[table];
  const identity = kind.identity.map(headingOf);
  // What says which thing it is cannot be changed by its form.
  const fixed = about.what === 'new' ? {} : Object.fromEntries(identity.map((name) => [name, about.cells[name] ?? '']));
  const cells = { ...filled, ...fixed };
  const headings = Object.keys(cells);
  const own = about.what === 'standing' ? about.rentalId : null;
  const cancelled = cells['cancelled'] === 'yes';
  const others = known.rentals.filter(({ rentalId }) => rentalId !== own);
  const rentals = cancelled ? known.rentals.filter(({ rentalId }) => rentalId === own) : others;
  const reading = readOneRow(table, headings, Object.values(cells).map(clean));
  const { outcome, written } = planRows(reading, { ...known, rentals }, NO_MAP);

  const said = ({ column, message }: { readonly column: number; readonly message: string }): Said => {
    const heading = headings[column - 1] ?? '';
    return message.startsWith(`${heading}: `)
      ? { heading, message: message.slice(heading.length + 2) }
      : { heading: null, message };
  };
  const faults = outcome.problems.map(said);
  const isNew = outcome.changes.every(({ what }) => what === 'new') && outcome.unchanged === 0;
  const wantsNew = about.what === 'new' || (table === 'rentals' && !cancelled);
  if (faults.length === 0 && wantsNew && !isNew) faults.push({ heading: identity[0] ?? null, message: ALREADY });
  return {
    faults,
    notes: outcome.notes.map(said),
    written: faults.length > 0 ? [] : written.map((each) => withNumber(each, own)),
  };
}

function withNumber(written: Written, rentalId: number | null): Written {
  return written.table === 'rentals' ? { ...written, entry: { ...written.entry, rentalId } } : written;
}

/** Takes one row over from a form, in one transaction, by the rules of an import; with anything wrong in it, nothing. */
export function tellByForm(records: ToldRecords, told: Told): Promise<FormOutcome> {
  return records.tell(async (tx) => {
    const { faults, notes, written } = planForm(told, await tx.known(near(told)));
    for (const each of written) await tx.write(each);
    return { faults, notes };
  });
}

/** A rental on record as cells, and what should be known of it; null when there is none of that number. */
export function standingRental(
  records: ToldRecords,
  rentalId: number,
): Promise<{ readonly cells: Cells; readonly hasConversations: boolean; readonly notes: readonly Said[] } | null> {
  return records.look(async (tx) => {
    const alone = await tx.known({ rentalId, unit: '', phones: [], booking: '' });
    const entry = alone.rentals.find((each) => each.rentalId === rentalId);
    if (entry === undefined) return null;
    const cells = cellsOf('rentals', entry);
    const told: Told = { table: 'rentals', about: { what: 'standing', cells, rentalId }, cells };
    const { notes } = planForm(told, await tx.known(near(told)));
    return { cells, hasConversations: entry.hasConversations, notes };
  });
}

/** One of the other tables on record as cells, by what names it; null when there is none. */
export function standingPlace(
  records: ToldRecords,
  table: Exclude<FormTable, 'rentals'>,
  named: Cells,
): Promise<Cells | null> {
  return records.look(async (tx) => {
    const kind = tableKinds(NO_MAP)[table];
    const known = await tx.known({ rentalId: null, unit: '', phones: [], booking: '' });
    const wanted = kind.keyOf(Object.fromEntries(kind.identity.map((field) => [field, named[headingOf(field)] ?? ''])));
    const entry = known[table].find((each) => kind.keyOf(each as unknown as Record<string, unknown>) === wanted);
    return entry === undefined ? null : cellsOf(table, entry as never);
  });
}
