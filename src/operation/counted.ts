import type { Watch, WorkOutcome } from './watch.ts';

function outcomeWord(outcome: object): WorkOutcome {
  if ('done' in outcome) return 'done';
  if ('movedTo' in outcome) return 'moved';
  return 'takenOver' in outcome ? 'taken over' : 'again';
}

/** Does work as `doWork` does, and counts what became of it. */
export function counted<Row extends { readonly kind: string }, Outcome extends object>(
  watch: Pick<Watch, 'work'>,
  doWork: (row: Row) => Promise<Outcome>,
): (row: Row) => Promise<Outcome> {
  return async (row) => {
    try {
      const outcome = await doWork(row);
      watch.work(row.kind, outcomeWord(outcome));
      return outcome;
    } catch (error) {
      watch.work(row.kind, 'failed');
      throw error;
    }
  };
}
