import type { Expected, Mark } from '../pages/records.ts';
import type { Language } from '../words/heard.ts';
import type { Handle } from './engine.ts';

/** Notes what a line should have been heard as, in place of what was noted before. */
export async function mark({ db }: Handle, { entryId, personId, at, expected }: Mark): Promise<void> {
  const columns = { person_id: personId, at, expect_json: JSON.stringify(expected) };
  await db
    .insertInto('marks')
    .values({ entry_id: entryId, ...columns })
    .onConflict((conflict) => conflict.column('entry_id').doUpdateSet(columns))
    .execute();
}

export async function unmark({ db }: Handle, entryId: number): Promise<void> {
  await db.deleteFrom('marks').where('entry_id', '=', entryId).execute();
}

/** A marked line as the export reads it. */
export interface MarkedLine {
  readonly entryId: number;
  readonly words: string;
  readonly lang: Language;
  /** The step that stood. */
  readonly step: string | null;
  readonly flowHash: string;
  readonly guestName: string | null;
  readonly expected: Expected;
}

/** Every marked line, oldest first. */
export async function markedLines({ db }: Handle): Promise<readonly MarkedLine[]> {
  const rows = await db
    .selectFrom('marks')
    .innerJoin('entries', 'entries.id', 'marks.entry_id')
    .innerJoin('conversations', 'conversations.id', 'entries.conversation_id')
    .leftJoin('rentals', 'rentals.id', 'conversations.rental_id')
    .select(['entry_id', 'entries.words', 'conversations.lang', 'step', 'flow_hash', 'guest_name', 'expect_json'])
    .orderBy('entry_id')
    .execute();
  return rows.map((row) => ({
    entryId: row.entry_id,
    words: row.words,
    lang: row.lang,
    step: row.step,
    flowHash: row.flow_hash,
    guestName: row.guest_name,
    expected: JSON.parse(row.expect_json) as Expected,
  }));
}

/** Names of everyone on record, guests and people of the roster: what an export must not carry. */
export async function namesOnRecord({ db }: Handle): Promise<readonly string[]> {
  const guests = await db.selectFrom('rentals').select('guest_name').distinct().execute();
  const people = await db.selectFrom('people').select('name').execute();
  return [...guests.map((row) => row.guest_name), ...people.map((row) => row.name)];
}
