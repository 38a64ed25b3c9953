import type { KeepingNote } from '../desk/keeping/note.ts';
import type { Handle } from './engine.ts';

/** Keeps a note of what was done with the records. */
export async function addKeepingNote({ db }: Handle, { at, by, what, details }: KeepingNote): Promise<void> {
  await db
    .insertInto('keeping_notes')
    .values({ at, done_by: by, what, details_json: JSON.stringify(details) })
    .execute();
}

/** All notes, newest first. */
export async function keepingNotes({ db }: Handle): Promise<readonly KeepingNote[]> {
  const rows = await db.selectFrom('keeping_notes').selectAll().orderBy('id', 'desc').execute();
  return rows.map(({ at, done_by, what, details_json }) => ({
    at,
    by: done_by,
    what,
    details: JSON.parse(details_json) as KeepingNote['details'],
  }));
}
