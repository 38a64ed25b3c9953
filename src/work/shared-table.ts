import type { Instant } from '../time/instant.ts';
import type { DueRow, WorkTable } from './do-due.ts';

/** A row of work as several processes share it. */
export interface SharedRow extends DueRow {
  /** Whose order it keeps; null for nobody's. */
  readonly phone: string | null;
  readonly danger: boolean;
}

/** As much of a row as is needed to hand it to whoever does it: no words and no phone leave the records. */
export type HandedRow = Pick<SharedRow, 'id' | 'kind' | 'tries' | 'danger'>;

/** The table of work as several processes look at it. */
export interface SharedTable<Row extends SharedRow> extends WorkTable<Row> {
  /** Rows that could be claimed, free since `freeBy` at the latest, danger first, then oldest; of one order if given. */
  dueWork(freeBy: Instant, most: number, order?: Pick<SharedRow, 'phone' | 'danger'>): Promise<readonly HandedRow[]>;
  /** The earliest instant after `now` at which something may be due. */
  nextDueAfter(now: Instant): Promise<Instant | null>;
}
