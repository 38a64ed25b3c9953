import type { FlowRateLine } from '../property.ts';
import type { Known, RentalEntry, TableName } from './entries.ts';
import { tableKinds } from './look.ts';
import { columnsOf } from './table-kind.ts';
import { NO_MAP } from './told.ts';

/** An entry of the records as its owner would write it, by the headings of the columns. */
export type Cells = Readonly<Record<string, string>>;

function lineWords({ people, when, fromLpm, toLpm }: FlowRateLine): string {
  const many = people === 1 ? '1 person' : '2 people';
  return `${many}${when === 'any' ? '' : ` ${when}`} ${fromLpm}${toLpm === fromLpm ? '' : `-${toLpm}`}`;
}

function cellOf(value: unknown): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (Array.isArray(value)) return value.map(cellOf).join('; ');
  return typeof value === 'string' ? value : JSON.stringify(value);
}

/** A rental in the parts in which it is written. */
function rentalParts({ order, ...entry }: RentalEntry): Readonly<Record<string, unknown>> {
  if (order === null) return entry;
  const { orderedBy, lines, mask, keepsCarbonDioxide } = order;
  return { ...entry, orderedBy, order: lines.map(lineWords), mask, keepsCo2: keepsCarbonDioxide };
}

/** Read again, these cells give the same entry. */
export function cellsOf<Name extends TableName>(table: Name, entry: Known[Name][number]): Cells {
  const parts = (table === 'rentals' ? rentalParts(entry as RentalEntry) : entry) as Readonly<Record<string, unknown>>;
  const columns = columnsOf(tableKinds(NO_MAP)[table]);
  return Object.fromEntries(columns.map(({ field, heading }) => [heading, cellOf(parts[field])]));
}
