import type { ControlledTransaction } from 'kysely';
import type { AddedWork } from '../desk/records.ts';
import type { Engine, Handle } from './engine.ts';
import { explained, worthRepeating } from './errors.ts';
import type { Tables } from './schema.ts';

/** A transaction that another one stood in the way of is tried this often in all. */
const TRIES = 3;

/** Opens a transaction that writes. On SQLite it waits for the one before to end: there is one writer. */
export function begin(engine: Engine): Promise<ControlledTransaction<Tables>> {
  return engine.writer.startTransaction().execute();
}

/** The tables as a writing transaction has them, and the work it writes. */
export function writing(engine: Engine, db: Handle['db']): { handle: Handle; added: AddedWork[] } {
  const added: AddedWork[] = [];
  const { kind } = engine;
  return { handle: { db, kind, locks: kind === 'postgres', noteWork: (row) => void added.push(row) }, added };
}

/** Tells of the work that a committed transaction wrote. */
export function tell({ onWork }: Engine, added: readonly AddedWork[]): void {
  if (added.length > 0) onWork(added);
}

/** Ends a transaction that may already be gone, with its connection or by SQLite's own rollback. */
export async function giveUp(transaction: ControlledTransaction<Tables>): Promise<void> {
  try {
    await transaction.rollback().execute();
  } catch {
    // Nothing stands any more, which is what was wanted; the error that led here is the one to report.
  }
}

async function once<T>(engine: Engine, use: (handle: Handle) => Promise<T>): Promise<T> {
  const transaction = await begin(engine);
  try {
    const { handle, added } = writing(engine, transaction);
    const value = await use(handle);
    await transaction.commit().execute();
    tell(engine, added);
    return value;
  } catch (error) {
    await giveUp(transaction);
    throw error;
  }
}

/**
 * Runs `use` in one transaction and commits it, or rolls it back when it throws. Two transactions that lock the same
 * rows crosswise end one of them (a deadlock): that one is run again, so `use` must touch nothing but the records.
 */
export async function inTransaction<T>(engine: Engine, use: (handle: Handle) => Promise<T>): Promise<T> {
  for (let tried = 1; ; tried += 1) {
    try {
      return await once(engine, use);
    } catch (error) {
      if (tried < TRIES && worthRepeating(error)) continue;
      throw explained(error, engine);
    }
  }
}

/** Runs `use` on one unchanging view of what is committed. What it writes is refused. */
export async function inView<T>(engine: Engine, use: (handle: Handle) => Promise<T>): Promise<T> {
  const view = engine.reader.transaction();
  // SQLite knows no modes; its reader's connection is read-only and its transactions see one state of the file.
  const opened =
    engine.kind === 'postgres' ? view.setAccessMode('read only').setIsolationLevel('repeatable read') : view;
  try {
    return await opened.execute((db) => use({ db, kind: engine.kind, locks: false }));
  } catch (error) {
    throw explained(error, engine);
  }
}
