import { z } from 'zod';
import type { TableName } from '../../desk/told/entries.ts';
import { DATE_ORDERS } from '../../desk/told/date.ts';
import { TABLE_NAMES } from '../../desk/told/look.ts';
import { templateOf } from '../../desk/told/template.ts';
import type { ColumnMap } from '../../desk/told/told.ts';
import { ProblemsError, readYaml } from '../../reading/yaml.ts';

const heading = z.string('must be a heading of your file, in quotes').min(1, 'must not be empty');
/** One heading, or several whose cells are put together. */
const headings = z.union([heading.transform((one) => [one]), z.array(heading).min(1, 'must name a heading')]);

function tableMap(table: TableName) {
  const columns = templateOf(table).columns.map((column) => [column.heading, headings.optional()] as const);
  return z.strictObject(Object.fromEntries(columns)).optional();
}

const mapSchema = z.strictObject({
  /** How dates are written in the owner's files. */
  dates: z.enum(DATE_ORDERS, `must be one of ${DATE_ORDERS.join(', ')}`).default('year-month-day'),
  ...Object.fromEntries(TABLE_NAMES.map((table) => [table, tableMap(table)])),
});

/**
 * Reads a column map: by table, the template's headings and what the owner calls them.
 * @throws ProblemsError with file, line and column
 */
export function readColumnMap(file: string, text: string): ColumnMap {
  const reading = readYaml(file, text, mapSchema);
  if (!reading.ok) throw new ProblemsError('This column map cannot be used:', reading.problems);
  const { dates, ...tables } = reading.document.value;
  return { dates, tables };
}
