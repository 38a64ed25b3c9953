import type { Instant } from '../../time/instant.ts';
import type { KeepingNote } from '../keeping/note.ts';
import type { Known, Written } from './entries.ts';
import { planImport } from './look.ts';
import type { ColumnMap, Outcome, ToldFile } from './told.ts';

/** Which rentals are looked at beside one: this one, those of the unit, of the phones and of the booking. */
export interface RentalsNear {
  readonly rentalId: number | null;
  readonly unit: string;
  readonly phones: readonly string[];
  readonly booking: string;
}

/** What an import asks of the records, inside one transaction. */
export interface ToldTx {
  /** Everything; with `near`, of the rentals only those that may have to do with it. */
  known(near?: RentalsNear): Promise<Known>;
  /** Writes one entry over what stands under the same name. @throws when it names what is not on record */
  write(written: Written): Promise<void>;
  note(note: KeepingNote): Promise<void>;
}

export interface ToldRecords {
  /** One transaction that writes. */
  tell<T>(use: (tx: ToldTx) => Promise<T>): Promise<T>;
  /** One unchanging view, to look only. */
  look<T>(use: (tx: Pick<ToldTx, 'known'>) => Promise<T>): Promise<T>;
}

/** What the files would change; nothing is written. */
export function lookAtImport(records: ToldRecords, files: readonly ToldFile[], map: ColumnMap): Promise<Outcome> {
  return records.look(async (tx) => planImport(files, await tx.known(), map).outcome);
}

/**
 * Takes the files over in one transaction, all of them or, with anything wrong in one, nothing. Taken over again they change
 * nothing, and leave no note.
 *
 * @param by who did it, for the note that it leaves
 */
export function takeImport(
  records: ToldRecords,
  files: readonly ToldFile[],
  map: ColumnMap,
  { by, at }: { readonly by: string; readonly at: Instant },
): Promise<Outcome> {
  return records.tell(async (tx) => {
    const { outcome, written } = planImport(files, await tx.known(), map);
    for (const each of written) await tx.write(each);
    if (written.length > 0) {
      const counts = Map.groupBy(written, ({ table }) => table);
      const details = Object.fromEntries([...counts].map(([table, of]) => [table, of.length]));
      await tx.note({ at, by, what: 'import', details });
    }
    return outcome;
  });
}
