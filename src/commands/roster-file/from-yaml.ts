import { z } from 'zod';
import { readYaml } from '../../reading/yaml.ts';
import type { Problem, ReadDocument } from '../../reading/yaml.ts';
import type { AtLine, RosterDraft } from '../../roster/draft.ts';
import { day, name, phone, position, role, time, weekdaysIn, zone } from './fields.ts';

const weekday = z.union([z.number(), z.string()]).transform((written, context) => {
  const [number, ...more] = weekdaysIn(String(written)) ?? [];
  if (number === undefined || more.length > 0) context.addIssue('must be a weekday: mon to sun, or 1 (Monday) to 7');
  return number ?? z.NEVER;
});

const watch = { person: name, from: time, to: time, position: position.default(1) };
const rosterSchema = z.strictObject({
  zone,
  people: z.array(z.strictObject({ name, phone: phone.nullable().default(null), role: role.default('technician') })),
  shifts: z.array(z.strictObject({ ...watch, days: z.array(weekday).min(1, 'must name a day') })).default([]),
  holidays: z
    .array(z.strictObject({ day, name: name.default('holiday'), shifts: z.array(z.strictObject(watch)).default([]) }))
    .default([]),
});

/** A roster file in YAML as a draft, or all that is wrong with its shape. */
export function draftFromYaml(
  file: string,
  text: string,
): { readonly draft: RosterDraft } | { readonly problems: readonly Problem[] } {
  const reading = readYaml(file, text, rosterSchema);
  if (!reading.ok) return { problems: reading.problems };
  const document: ReadDocument<z.infer<typeof rosterSchema>> = reading.document;
  const { value } = document;
  const placed = <T extends object>(each: T, ...path: PropertyKey[]): T & AtLine => ({
    ...each,
    ...document.placeOf(path),
  });
  return {
    draft: {
      zone: value.zone,
      people: value.people.map((each, index) => placed(each, 'people', index)),
      shifts: value.shifts.map((each, index) => placed(each, 'shifts', index)),
      holidays: value.holidays.map((each, index) => ({
        ...placed(each, 'holidays', index),
        shifts: each.shifts.map((shift, at) => placed(shift, 'holidays', index, 'shifts', at)),
      })),
    },
  };
}
