import { dayIn, isDay } from '../../time/calendar.ts';
import type { Day } from '../../time/calendar.ts';
import { instantOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { CellKind } from './cell.ts';

/** How dates without a time are written in a file. */
export const DATE_ORDERS = ['year-month-day', 'month/day/year', 'day.month.year'] as const;
export type DateOrder = (typeof DATE_ORDERS)[number];

/** A day as it was written: a plain date, or an instant whose day is told only by the property's zone. */
export type WrittenDate = { readonly day: Day } | { readonly instant: Instant };

const PLAIN: Readonly<Record<DateOrder, { readonly example: string; readonly shape: RegExp }>> = {
  'year-month-day': { example: '2026-12-24', shape: /^(?<year>\d{4})-(?<month>\d{1,2})-(?<day>\d{1,2})$/ },
  'month/day/year': { example: '12/24/2026', shape: /^(?<month>\d{1,2})\/(?<day>\d{1,2})\/(?<year>\d{4})$/ },
  'day.month.year': { example: '24.12.2026', shape: /^(?<day>\d{1,2})\.(?<month>\d{1,2})\.(?<year>\d{4})$/ },
};

const WITH_TIME = /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:?\d{2})$/;

function plainDay(cell: string, order: DateOrder): Day | null {
  const { year, month, day } = PLAIN[order].shape.exec(cell)?.groups ?? {};
  if (year === undefined || month === undefined || day === undefined) return null;
  const written = `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  return isDay(written) ? written : null;
}

function instantIn(cell: string): Instant | null {
  if (!WITH_TIME.test(cell)) return null;
  try {
    return instantOf(cell.replace(' ', 'T'));
  } catch {
    return null;
  }
}

/** A date in one order only: 3/4/2026 is two days, and a guess would be a delivery on the wrong one. */
export function date(order: DateOrder): CellKind<WrittenDate> {
  return {
    allowed: `a date that the calendar has, as ${PLAIN[order].example}`,
    read(cell) {
      const day = plainDay(cell, order);
      if (day !== null) return { day };
      const instant = instantIn(cell);
      return instant === null ? null : { instant };
    },
  };
}

/** The day where the property is. */
export function dayAt(written: WrittenDate, zone: string): Day {
  return 'day' in written ? written.day : dayIn(zone, written.instant);
}
