import type { HandedRow } from './shared-table.ts';

/**
 * The queues that rows are handed over in, each with workers of its own, so that none waits behind another sort:
 * danger   is never held to a pace, and waits for no reminder
 * paced    texts, of which a carrier takes only so many a second
 * unpaced  everything else
 */
export const LANES = ['danger', 'paced', 'unpaced'] as const;
export type Lane = (typeof LANES)[number];

/** @param isPaced whether rows of a kind count towards the pace */
export function laneOf(row: Pick<HandedRow, 'kind' | 'danger'>, isPaced: (kind: string) => boolean): Lane {
  if (row.danger) return 'danger';
  return isPaced(row.kind) ? 'paced' : 'unpaced';
}

/**
 * A job's name: the row and the try. Handed over again, by whomever, while a job of that name waits or runs, it is the
 * same job.
 */
export function jobIdOf({ id, tries }: Pick<HandedRow, 'id' | 'tries'>): string {
  return `w-${id}-${tries}`;
}
