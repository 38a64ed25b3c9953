import type { Records, Tx } from '../desk/records.ts';
import type { Engine, Handle, OnWork } from './engine.ts';
import { explained } from './errors.ts';
import { migrate } from './migrate.ts';
import { postgresEngine } from './postgres.ts';
import { SharedCommits } from './shared-commits.ts';
import { sqliteEngine } from './sqlite.ts';
import { inTransaction, inView } from './transactions.ts';
import { textTxOn } from './text-tx.ts';
import { txOn } from './tx.ts';
import * as work from './work.ts';
import * as workTimes from './work-times.ts';

export type { OnWork };

export type RecordsSettings = { readonly sqliteFile: string } | { readonly postgresUrl: string };

/** Records with a door to the tables, for what loads whole scenarios. The desk is given them as `Records`. */
export interface OpenRecords extends Records {
  /** One transaction on the tables themselves. */
  onTables<T>(use: (handle: Handle) => Promise<T>): Promise<T>;
  /** The same to look only, at one unchanging view of what is committed. */
  viewTables<T>(use: (handle: Handle) => Promise<T>): Promise<T>;
}

/** What one text does: on Postgres, where each query costs a round trip, in as few of them as can be. */
async function asText<T>({ kind }: Engine, handle: Handle, use: (tx: Tx) => Promise<T>): Promise<T> {
  if (kind === 'sqlite') return use(txOn(handle));
  const { tx, flush } = textTxOn(handle);
  const value = await use(tx);
  await flush();
  return value;
}

function recordsOn(engine: Engine): OpenRecords {
  const commits = new SharedCommits(engine);
  return {
    onTables: (use) => inTransaction(engine, use),
    viewTables: (use) => inView(engine, use),
    transaction: (use) => inTransaction(engine, (handle) => use(txOn(handle))),
    shared: (use, order) => commits.share((handle) => asText(engine, handle, use), order),
    read: (use) => inView(engine, (handle) => use(txOn(handle))),
    claimWork: (now, leaseUntil, inOrderOf) =>
      inTransaction(engine, (handle) => work.claimWork(handle, now, leaseUntil, inOrderOf)),
    finishWork: (id, result, at) => inTransaction(engine, (handle) => work.finishWork(handle, id, result, at)),
    postponeWork: (id, dueAt) => inTransaction(engine, (handle) => workTimes.postponeWork(handle, id, dueAt)),
    giveBackWork: (id, freeAt) => inTransaction(engine, (handle) => workTimes.giveBackWork(handle, id, freeAt)),
    moveWork: (id, dueAt) => inTransaction(engine, (handle) => workTimes.moveWork(handle, id, dueAt)),
    dueWork: (freeBy, most, order) => inView(engine, (handle) => work.dueWork(handle, freeBy, most, order)),
    nextDueAfter: (now) => inView(engine, (handle) => work.nextDueAfter(handle, now)),
    nextDueAt: () => inView(engine, (handle) => work.nextDueAt(handle)),
    close: async () => {
      await commits.idle();
      await close(engine);
    },
  };
}

async function close(engine: Engine): Promise<void> {
  await engine.reader.destroy();
  if (engine.writer !== engine.reader) await engine.writer.destroy();
}

/**
 * Opens the records and brings their tables up to date.
 * @param onWork told of rows of work after the commit that wrote them, for whoever hands them to other processes
 * @throws RecordsError that says what to do, where the place cannot be reached, opened or written.
 */
export async function openRecords(settings: RecordsSettings, onWork?: OnWork): Promise<OpenRecords> {
  const engine =
    'sqliteFile' in settings ? sqliteEngine(settings.sqliteFile, onWork) : postgresEngine(settings.postgresUrl, onWork);
  try {
    await migrate(engine);
    // Deletes nothing; read-only records refuse it now, before the first text of the night does.
    await inTransaction(engine, ({ db }) => db.deleteFrom('work').where('id', '=', 0).execute());
  } catch (error) {
    await close(engine).catch(() => {}); // what kept it from opening is the error to report
    throw explained(error, engine);
  }
  return recordsOn(engine);
}
