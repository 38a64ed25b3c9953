import type { Work } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** Marks that a row is about to be handed to the carrier. False when another worker has it, who hands it over then. */
export function beginAttempt(desk: Surroundings, row: Work): Promise<boolean> {
  return desk.records.transaction(async (tx) => {
    if (!(await tx.holdWork(row))) return false;
    await tx.markAttempt(row.id, desk.now());
    return true;
  });
}
