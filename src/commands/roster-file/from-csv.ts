import { z } from 'zod';
import { readCsv } from '../../reading/csv.ts';
import type { CsvRow } from '../../reading/csv.ts';
import type { Problem } from '../../reading/yaml.ts';
import type { HolidayDraft, PersonDraft, RosterDraft, ShiftDraft } from '../../roster/draft.ts';
import { isDay } from '../../time/calendar.ts';
import { name, phone, position, role, time, weekdaysIn, zone } from './fields.ts';

/**
 * A row is a shift of a person. `days` names weekdays ("mon-thu") or the date of a holiday, on which only such rows count.
 * Phone, role and zone need to stand once. A row with neither days nor times only names the person.
 */
export const CSV_COLUMNS = ['person', 'phone', 'role', 'days', 'from', 'to', 'position', 'zone'] as const;

const blank = (field: z.ZodType): z.ZodType => z.union([z.literal('').transform(() => undefined), field]);
const rowSchema = z.object({
  person: name,
  phone: blank(phone).optional(),
  role: blank(role).optional(),
  days: z.string().default(''),
  from: blank(time).optional(),
  to: blank(time).optional(),
  position: blank(position).optional(),
  zone: blank(zone).optional(),
}) as z.ZodType<{
  person: string;
  phone?: string;
  role?: 'technician' | 'owner';
  days: string;
  from?: string;
  to?: string;
  position?: number;
  zone?: string;
}>;
type Row = z.infer<typeof rowSchema> & { readonly line: number };

function checkedRow(file: string, { line, fields }: CsvRow): { row: Row } | { problems: readonly Problem[] } {
  const read = rowSchema.safeParse(fields);
  if (read.success) return { row: { ...read.data, line } };
  const problems = read.error.issues.map((issue) => {
    const [field = 'the row'] = issue.path;
    // Of "empty, or a phone" only the second is worth saying.
    const inner = issue.code === 'invalid_union' ? issue.errors.at(-1)?.[0]?.message : undefined;
    return { file, line, column: 1, message: `${String(field)} ${inner ?? issue.message}` };
  });
  return { problems };
}

function peopleOf(rows: readonly Row[]): PersonDraft[] {
  const names = [...new Set(rows.map((row) => row.person))];
  return names.map((each) => {
    const own = rows.filter((row) => row.person === each);
    const [first] = own;
    return {
      name: each,
      phone: own.find((row) => row.phone !== undefined)?.phone ?? null,
      role: own.find((row) => row.role !== undefined)?.role ?? 'technician',
      line: first?.line ?? 1,
      column: 1,
    };
  });
}

/** A roster file in CSV as a draft, or all that is wrong with its rows. */
export function draftFromCsv(
  file: string,
  text: string,
): { readonly draft: RosterDraft } | { readonly problems: readonly Problem[] } {
  const reading = readCsv(file, text, CSV_COLUMNS);
  if (!reading.ok) return { problems: reading.problems };
  const checked = reading.rows.map((row) => checkedRow(file, row));
  const problems = checked.flatMap((each) => ('problems' in each ? each.problems : []));
  const rows = checked.flatMap((each) => ('row' in each ? [each.row] : []));
  const problem = (line: number, message: string): void => void problems.push({ file, line, column: 1, message });

  const zones = [...new Set(rows.flatMap((row) => row.zone ?? []))];
  if (zones.length !== 1 && problems.length === 0) {
    const message =
      zones.length === 0 ? 'zone must stand in a row, as America/Denver' : `zone must be one: ${zones.join(', ')}`;
    problem(rows.find((row) => row.zone === zones[1])?.line ?? rows[0]?.line ?? 1, message);
  }
  const shifts: ShiftDraft[] = [];
  const holidays = new Map<string, HolidayDraft>();
  for (const { person, days, from, to, position: at = 1, line } of rows) {
    if (days === '' && from === undefined && to === undefined) continue;
    if (from === undefined || to === undefined) problem(line, 'from and to must both be times as 20:00');
    const watch = { person, from: from ?? '', to: to ?? '', position: at, line, column: 1 };
    const weekdays = weekdaysIn(days);
    if (isDay(days)) {
      const holiday = holidays.get(days) ?? { day: days, name: 'holiday', shifts: [], line, column: 1 };
      holidays.set(days, { ...holiday, shifts: [...holiday.shifts, watch] });
    } else if (weekdays === null) {
      problem(line, 'days must be weekdays, as mon-thu or "fri sat", or the date of a holiday, as 2026-12-24');
    } else shifts.push({ ...watch, days: weekdays });
  }
  if (problems.length > 0) return { problems: problems.toSorted((a, b) => a.line - b.line) };
  return { draft: { zone: zones[0] ?? '', people: peopleOf(rows), shifts, holidays: [...holidays.values()] } };
}
