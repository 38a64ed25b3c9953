import { ProblemsError } from '../../reading/yaml.ts';
import { faultsOf } from '../../roster/draft.ts';
import type { RosterDraft } from '../../roster/draft.ts';
import { draftFromCsv } from './from-csv.ts';
import { draftFromYaml } from './from-yaml.ts';

/**
 * Reads and checks a roster file, a table when its name ends in .csv, else YAML.
 * @throws ProblemsError naming everything that is wrong, with its line: bad zone, unknown people, missing phone, overlap.
 */
export function readRoster(file: string, text: string): RosterDraft {
  const read = file.toLowerCase().endsWith('.csv') ? draftFromCsv(file, text) : draftFromYaml(file, text);
  const refuse = 'This roster was not taken over; nothing is changed:';
  if ('problems' in read) throw new ProblemsError(refuse, read.problems);
  const faults = faultsOf(read.draft);
  if (faults.length > 0) {
    throw new ProblemsError(
      refuse,
      faults.map((fault) => ({ file, ...fault })),
    );
  }
  return read.draft;
}
