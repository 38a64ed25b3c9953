import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { takeImport } from '../../../desk/told/import.ts';
import { NO_MAP } from '../../../desk/told/told.ts';
import { ProblemsError } from '../../../reading/yaml.ts';
import type { OpenRecords } from '../../../records/open.ts';
import { enterRoster } from '../../../records/roster-entry.ts';
import { toldRecordsOn } from '../../../records/told.ts';
import type { Instant } from '../../../time/instant.ts';
import { readRoster } from '../../roster-file/read-roster.ts';

/** A made-up season as `fixtures/season/make.ts` writes it. */

const TABLES = ['models.csv', 'properties.csv', 'rooms.csv', 'units.csv', 'people.csv', 'rentals.csv'] as const;
const ROSTER = 'roster.yaml';

/** What goes wrong at one guest's, which the desk is not told. */
const faultSchema = z.object({
  at: z.string().transform((at) => at as Instant),
  phone: z.string(),
  lang: z.enum(['en', 'es']),
  property: z.string(),
  room: z.string(),
  unit: z.string(),
  fault: z.string(),
  because: z.enum(['switched-outlet-in-room', 'failing-unit', 'chance']),
  outlet: z.object({ place: z.string(), words: z.string() }).nullable(),
});
export type SeasonFault = z.infer<typeof faultSchema>;

const truthSchema = z.object({
  seed: z.number(),
  firstDay: z.string(),
  nights: z.number(),
  zone: z.string(),
  failingUnit: z.string(),
  switchedOutlets: z.array(z.object({ property: z.string(), room: z.string(), works: z.string() })),
});
export type SeasonTruth = z.infer<typeof truthSchema>;

export interface Season {
  readonly folder: string;
  readonly truth: SeasonTruth;
  /** In the order in which they happen. */
  readonly faults: readonly SeasonFault[];
}

/** @throws Error of the file system or of zod when the folder holds no season */
export function readSeason(folder: string): Season {
  const faults = readFileSync(join(folder, 'faults.jsonl'), 'utf8')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => faultSchema.parse(JSON.parse(line)));
  const truth = truthSchema.parse(JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')));
  return { folder, truth, faults };
}

/**
 * Tells records what there is in a season, as an owner does: the tables by the import, the roster by its own.
 * @throws ProblemsError naming all that is wrong with the tables
 */
export async function tellSeason(records: OpenRecords, { folder }: Season, at: Instant): Promise<void> {
  const textOf = (name: string): string => readFileSync(join(folder, name), 'utf8');
  await enterRoster(records, readRoster(ROSTER, textOf(ROSTER)));
  const files = TABLES.map((name) => ({ name, text: textOf(name) }));
  const { problems } = await takeImport(toldRecordsOn(records), files, NO_MAP, { by: 'the rehearsal', at });
  if (problems.length > 0) throw new ProblemsError('This season cannot be imported:', problems);
}
