import type { Watch } from './watch.ts';

/** Does work as `doWork` does, and counts what became of it. */
export function counted<Row extends { readonly kind: string }, Outcome extends object>(
  watch: Pick<Watch, 'work'>,
  doWork: (row: Row) => Promise<Outcome>,
): (row: Row) => Promise<Outcome> {
  return async (row) => {
    try {
      const outcome = await doWork(row);
      watch.work(row.kind, 'done' in outcome ? 'done' : 'movedTo' in outcome ? 'moved' : 'again');
      return outcome;
    } catch (error) {
      watch.work(row.kind, 'failed');
      throw error;
    }
  };
}
