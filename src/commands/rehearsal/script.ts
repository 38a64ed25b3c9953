import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { stringify } from 'yaml';
import { z } from 'zod';
import { ProblemsError, readYaml } from '../../reading/yaml.ts';
import { ENDINGS } from '../../flow/ending.ts';

/** A written conversation: what is said, and what the desk should say to it. */

const phone = z.string().regex(/^\+1970555\d{4}$/, 'a phone of the demo, as +19705550101');

/** What is said to a caller, and what else happens before the next beat. */
const heard = {
  hears: z.array(z.string()),
  /** How the call goes on where the caller is not asked anything. */
  goesOn: z.enum(['waits', 'records', 'over']).optional(),
  sent: z.array(z.string()).optional(),
};

const beatSchema = z.union([
  /** A call from the guest, or from the phone that is named. */
  z.strictObject({ calls: phone, ...heard }),
  /** Keys that the caller presses, as on a keypad: with the pound key where one ends them. */
  z.strictObject({ keys: z.string().regex(/^[0-9*#]{1,20}$/, 'keys, as 1 or 92#'), ...heard }),
  /** What speech recognition makes of what the caller says, and how sure it is. */
  z.strictObject({ speech: z.string(), confidence: z.number().min(0).max(1), ...heard }),
  /** The caller says and presses nothing, or waits half a minute for a person, or hangs up. */
  z.strictObject({ caller: z.enum(['is silent', 'hangs up']), ...heard }),

  /** A text from the guest, or from the phone that is named, and the desk's reply to it. */
  z.strictObject({
    says: z.string(),
    from: phone.optional(),
    reply: z.string().nullable(),
    /** What other phones receive before the next beat: "NAME: words". */
    sent: z.array(z.string()).optional(),
  }),
  /** Time that passes, and what is sent meanwhile. */
  z.strictObject({
    waits: z.string().regex(/^PT(\d+H)?(\d+M)?(\d+S)?$/, 'a duration such as PT3M'),
    sent: z.array(z.string()).optional(),
  }),
]);
export type Beat = z.infer<typeof beatSchema>;

const scriptSchema = z.strictObject({
  about: z.string(),
  as: phone,
  /** ISO 8601 with an offset. */
  at: z.string(),
  beats: z
    .array(beatSchema)
    .min(1)
    .superRefine((beats, context) => {
      for (const [index, beat] of beats.entries()) {
        if (!('speech' in beat || 'keys' in beat || 'caller' in beat)) continue;
        const before = beats.slice(0, index).findLast((each) => 'calls' in each || 'caller' in each);
        if (before !== undefined && ('calls' in before || ('caller' in before && before.caller !== 'hangs up')))
          continue;
        context.addIssue({
          code: 'custom',
          path: [index],
          message: 'nobody is on the phone here; a call begins with "calls"',
        });
      }
    }),
  ends: z.enum([...ENDINGS, 'open']),
  callouts: z.array(z.string()),
});
export type Script = z.infer<typeof scriptSchema>;

export interface ScriptFile {
  readonly file: string;
  readonly script: Script;
}

export const CONVERSATIONS = join(import.meta.dirname, '../../../fixtures/conversations');

/**
 * Reads the written conversations of a folder, in the order of their names.
 * @throws ProblemsError with file, line and column.
 */
export function readScripts(folder: string): readonly ScriptFile[] {
  const names = readdirSync(folder).filter((name) => name.endsWith('.yaml'));
  const readings = names.toSorted().map((file) => {
    return { file, reading: readYaml(file, readFileSync(join(folder, file), 'utf8'), scriptSchema) };
  });
  const problems = readings.flatMap(({ reading }) => (reading.ok ? [] : reading.problems));
  if (problems.length > 0) throw new ProblemsError('These written conversations cannot be played:', problems);
  return readings.flatMap(({ file, reading }) => (reading.ok ? [{ file, script: reading.document.value }] : []));
}

/** The script as it would have been written by hand. */
export function writtenScript(script: Script): string {
  return stringify(script, { lineWidth: 0 });
}
