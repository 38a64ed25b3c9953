import { CsvError, parse } from 'csv-parse/sync';
import type { Problem } from './yaml.ts';

/** One row of a table, with its fields by the names of the first row, and the line it stands in. */
export interface CsvRow {
  readonly line: number;
  readonly fields: Readonly<Record<string, string>>;
}

export type CsvReading =
  | { readonly ok: true; readonly rows: readonly CsvRow[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

interface Parsed {
  readonly record: Readonly<Record<string, string>>;
  readonly info: { readonly lines: number };
}

/**
 * Reads a table: comma or semicolon, the first row names the columns, of which each must be known.
 *
 * @param columns the names that may stand in the first row
 */
export function readCsv(file: string, text: string, columns: readonly string[]): CsvReading {
  const [head = ''] = text.split('\n');
  const at = (line: number, message: string): CsvReading => ({
    ok: false,
    problems: [{ file, line, column: 1, message }],
  });
  try {
    const parsed = parse(text, {
      columns: (names: readonly string[]) => names.map((name) => name.toLowerCase()),
      delimiter: head.includes(';') ? ';' : ',',
      bom: true,
      info: true,
      trim: true,
      skip_empty_lines: true,
    }) as unknown as readonly Parsed[];
    const unknown = Object.keys(parsed[0]?.record ?? {}).filter((name) => !columns.includes(name));
    if (unknown.length > 0) return at(1, `"${unknown[0]}" is not a column; the columns are ${columns.join(', ')}`);
    return { ok: true, rows: parsed.map(({ record, info }) => ({ line: info.lines, fields: record })) };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return at(
      typeof error['lines'] === 'number' ? error['lines'] : 1,
      `this is not a row of the table: ${error.message}`,
    );
  }
}
