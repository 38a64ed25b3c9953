/**
 * One value of a CSV file (RFC 4180). A value that a spreadsheet would take for a formula gets an apostrophe before it, as
 * OWASP's page on CSV injection advises; a plain number is none.
 */
function cell(value: string | number | null): string {
  const text = String(value ?? '');
  const risky = /^\s*[=+\-@\t\r]/.test(text) && !/^-?\d+(\.\d+)?$/.test(text);
  const safe = risky ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

type CsvRow = readonly (string | number | null)[];

/** Rows of a table as CSV. */
export function csvRows(rows: readonly CsvRow[]): string {
  return rows.map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

/** A table as CSV, its head first. */
export function csvOf(head: readonly string[], rows: readonly CsvRow[]): string {
  return csvRows([head, ...rows]);
}
