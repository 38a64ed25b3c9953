import type { Instant } from '../../src/time/instant.ts';
import type { DueRow, WorkTable } from '../../src/work/do-due.ts';

export interface Row extends DueRow {
  readonly dueAt: Instant;
}

/** A table of work in memory, oldest first, for what the loop does with any table. */
export interface TableInMemory extends WorkTable<Row> {
  add(row: { readonly kind: string; readonly dueAt: Instant }): void;
  /** While false, nothing can be claimed: the table cannot be read. */
  readable: boolean;
  /** What came of the rows that are done, by kind. */
  results(): Readonly<Record<string, string>>;
}

export function tableInMemory(first: readonly { readonly kind: string; readonly dueAt: Instant }[]): TableInMemory {
  const rows: { id: number; kind: string; tries: number; dueAt: Instant; result: string | null }[] = [];
  const oldest = () => rows.filter((row) => row.result === null).toSorted((a, b) => (a.dueAt < b.dueAt ? -1 : 1))[0];
  const table: TableInMemory = {
    readable: true,
    add({ kind, dueAt }) {
      rows.push({ id: rows.length + 1, kind, tries: 0, dueAt, result: null });
    },
    results: () => Object.fromEntries(rows.flatMap(({ kind, result }) => (result === null ? [] : [[kind, result]]))),
    async claimWork(now, leaseUntil) {
      if (!table.readable) throw new Error('records down');
      const row = oldest();
      if (row === undefined || row.dueAt > now) return null;
      row.tries += 1;
      const claimed = { ...row };
      row.dueAt = leaseUntil;
      return claimed;
    },
    async finishWork(id, result) {
      const row = rows.find((each) => each.id === id);
      if (row !== undefined) row.result = result;
    },
    async postponeWork(id, dueAt) {
      const row = rows.find((each) => each.id === id);
      if (row !== undefined) row.dueAt = dueAt;
    },
    async giveBackWork(id, freeAt) {
      const row = rows.find((each) => each.id === id);
      if (row !== undefined) Object.assign(row, { dueAt: freeAt, tries: row.tries - 1 });
    },
    async moveWork(id, dueAt) {
      await table.giveBackWork(id, dueAt);
    },
    nextDueAt: async () => oldest()?.dueAt ?? null,
  };
  for (const row of first) table.add(row);
  return table;
}
