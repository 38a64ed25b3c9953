import { z } from 'zod';
import { phoneOf } from '../../reading/phone.ts';
import { isDay, isZone } from '../../time/calendar.ts';

/** The fields of a roster file, the same in YAML and in a table. */

const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

/** "fri", "Friday" or 5; null for what is no weekday. */
function weekdayNumber(written: string): number | null {
  const word = written.trim().toLowerCase();
  if (/^[1-7]$/.test(word)) return Number(word);
  const index = WEEKDAYS.findIndex((name) => word.startsWith(name));
  return index === -1 ? null : index + 1;
}

/** "mon-thu", "fri sat", "1-4": the numbers of the weekdays; null where a part is none. */
export function weekdaysIn(written: string): readonly number[] | null {
  const days = written
    .split(/[\s,;/]+/)
    .filter((part) => part !== '')
    .flatMap((part): (number | null)[] => {
      const [from, to, ...more] = part.split(/[-–]/).map(weekdayNumber);
      if (more.length > 0 || from == null || to === null) return [null];
      if (to === undefined) return [from];
      return Array.from({ length: ((to - from + 7) % 7) + 1 }, (_, index) => ((from - 1 + index) % 7) + 1);
    });
  return days.length === 0 || days.includes(null) ? null : [...new Set(days as number[])].toSorted((a, b) => a - b);
}

export const name = z.string('must be a name').trim().min(1, 'must not be empty');
export const time = z
  .string('must be a time of day as "HH:MM", in quotes')
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time of day as "HH:MM", in quotes');
export const zone = z
  .string('must be a time zone, as America/Denver')
  .refine(isZone, 'must be a time zone of the IANA list, as America/Denver');
export const day = z.string('must be a date as 2026-12-24').refine(isDay, 'must be a date as 2026-12-24');
export const role = z.enum(['technician', 'owner'], 'must be technician or owner');
export const position = z.coerce.number('must be 1, 2, ...').int('must be 1, 2, ...').min(1, 'must be 1 or more');
export const phone = z.string('must be a phone in quotes').transform((written, context) => {
  const e164 = phoneOf(written);
  if (e164 === null) context.addIssue('must be a phone number, as +19705550100');
  return e164 ?? z.NEVER;
});
