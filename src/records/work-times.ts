import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';

/** Makes undone rows with exactly this key due at once. */
export async function hastenWork({ db, noteWork }: Handle, key: string, at: Instant): Promise<void> {
  const rows = await db
    .updateTable('work')
    .set({ due_at: at, free_at: at })
    .where('key', '=', key)
    .where('done_at', 'is', null)
    .returning(['id', 'kind', 'tries', 'danger'])
    .execute();
  for (const row of rows) noteWork?.({ ...row, danger: row.danger === 1, dueAt: at });
}

/** Puts off undone rows with exactly this key that are not due yet. */
export async function delayWork({ db }: Handle, key: string, until: Instant, now: Instant): Promise<void> {
  await db
    .updateTable('work')
    .set({ due_at: until, free_at: until })
    .where('key', '=', key)
    .where('done_at', 'is', null)
    .where('due_at', '>', now)
    .execute();
}

/** Gives a row back until that instant. It keeps its place, so younger rows of its guest wait with it. */
export async function postponeWork({ db }: Handle, id: number, freeAt: Instant): Promise<void> {
  await db.updateTable('work').set({ free_at: freeAt }).where('id', '=', id).where('done_at', 'is', null).execute();
}

/** Gives a row back that was not begun: it keeps its place, and the claim does not count as a try. */
export async function giveBackWork({ db }: Handle, id: number, freeAt: Instant): Promise<void> {
  await db
    .updateTable('work')
    .set((row) => ({ free_at: freeAt, tries: row('tries', '-', 1) }))
    .where('id', '=', id)
    .where('done_at', 'is', null)
    .execute();
}

/** Gives a row back to be due later, not begun: it loses its place, so that nothing of its guest waits with it. */
export async function moveWork({ db }: Handle, id: number, dueAt: Instant): Promise<void> {
  await db
    .updateTable('work')
    .set((row) => ({ due_at: dueAt, free_at: dueAt, tries: row('tries', '-', 1) }))
    .where('id', '=', id)
    .where('done_at', 'is', null)
    .execute();
}

/** Moves a row's times by hand: when the clock itself was set back. */
export async function retimeWork(
  { db }: Handle,
  id: number,
  times: { readonly dueAt: Instant; readonly notAfter: Instant | null },
): Promise<void> {
  await db
    .updateTable('work')
    .set({ due_at: times.dueAt, free_at: times.dueAt, not_after: times.notAfter })
    .where('id', '=', id)
    .where('done_at', 'is', null)
    .execute();
}
