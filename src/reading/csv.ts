import { CsvError, parse } from 'csv-parse/sync';
import type { Problem } from './yaml.ts';

/** A row of a table as it stands in the file: its cells by place, trimmed, and the line it begins in. */
export interface TableRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/** A table whose first row names its columns. Every row has as many cells as there are headings. */
export interface Table {
  readonly headings: readonly string[];
  readonly rows: readonly TableRow[];
}

/** One row of a table, with its fields by the names of the first row, and the line it stands in. */
export interface CsvRow {
  readonly line: number;
  readonly fields: Readonly<Record<string, string>>;
}

interface Parsed {
  readonly record: readonly string[];
  readonly raw: string;
  readonly info: { readonly lines: number };
}

/** What stands between the cells: whichever of comma, semicolon and tab the first line has most of. */
function delimiterOf(text: string): string {
  const head = text.slice(0, text.indexOf('\n') === -1 ? undefined : text.indexOf('\n'));
  const count = (mark: string): number => head.split(mark).length - 1;
  return [',', ';', '\t'].reduce((most, mark) => (count(mark) > count(most) ? mark : most), ',');
}

const linesIn = (raw: string): number => raw.trim().split('\n').length;

/** The place of a cell: the line, and the cell's number in its row, counted from 1. */
const placed = (file: string, line: number, message: string, column = 1): Problem => ({ file, line, column, message });

function headingFaults(file: string, headings: readonly string[]): readonly Problem[] {
  return headings.flatMap((heading, index) => {
    const at = index + 1;
    if (heading === '') return [placed(file, 1, 'this column has no heading; name it, or take it out', at)];
    const first = headings.findIndex((other) => other.toLowerCase() === heading.toLowerCase());
    if (first === index) return [];
    return [placed(file, 1, `the heading "${heading}" stands in column ${first + 1} already; keep one of the two`, at)];
  });
}

/**
 * Reads a table: comma, semicolon or tab between the cells, the first row names the columns. Rows without anything in them
 * are passed over. All that is wrong at once; only a broken quote ends the reading at its line.
 */
export function readTable(
  file: string,
  text: string,
): { readonly ok: true; readonly table: Table } | { readonly ok: false; readonly problems: readonly Problem[] } {
  let parsed: readonly Parsed[];
  try {
    parsed = parse(text, {
      delimiter: delimiterOf(text),
      bom: true,
      info: true,
      raw: true,
      trim: true,
      relax_column_count: true,
      skip_empty_lines: true,
    }) as unknown as readonly Parsed[];
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error['lines'] === 'number' ? error['lines'] : 1;
    return { ok: false, problems: [placed(file, line, `this is not a row of the table: ${error.message}`)] };
  }
  const [head, ...body] = parsed;
  if (head === undefined) {
    return { ok: false, problems: [placed(file, 1, 'the file is empty; its first row must name the columns')] };
  }
  const headings = head.record;
  const rows = body
    .map(({ record, raw, info }) => ({ line: info.lines - linesIn(raw) + 1, cells: record }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  const torn = rows
    .filter(({ cells }) => cells.length !== headings.length)
    .map(({ line, cells }) => {
      const message = `this row has ${cells.length} cells, and there are ${headings.length} columns; put cells with a comma in quotes`;
      return placed(file, line, message);
    });
  const problems = [...headingFaults(file, headings), ...torn];
  return problems.length > 0 ? { ok: false, problems } : { ok: true, table: { headings, rows } };
}

export type CsvReading =
  | { readonly ok: true; readonly rows: readonly CsvRow[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Reads a table whose columns must all be known.
 *
 * @param columns the names that may stand in the first row, in small letters
 */
export function readCsv(file: string, text: string, columns: readonly string[]): CsvReading {
  const read = readTable(file, text);
  if (!read.ok) return read;
  const headings = read.table.headings.map((heading) => heading.toLowerCase());
  const unknown = headings.findIndex((heading) => !columns.includes(heading));
  if (unknown !== -1) {
    const message = `"${headings[unknown]}" is not a column; the columns are ${columns.join(', ')}`;
    return { ok: false, problems: [placed(file, 1, message)] };
  }
  const rows = read.table.rows.map(({ line, cells }) => ({
    line,
    fields: Object.fromEntries(headings.map((heading, index) => [heading, cells[index] ?? ''])),
  }));
  return { ok: true, rows };
}
