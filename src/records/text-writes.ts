import { sql } from 'kysely';
import type { RawBuilder } from 'kysely';
import type { Conversation, GuestPhone, NewEntry, NewWork } from '../desk/records.ts';
import type { Instant } from '../time/instant.ts';
import { columnsOf as columnsOfConversation, entryColumnsOf } from './conversations.ts';
import type { Handle } from './engine.ts';
import { KEPT } from './kept-statements.ts';
import { keepable } from './values.ts';
import { columnsOf as columnsOfWork } from './work.ts';

type Columns = Readonly<Record<string, unknown>>;

/** Rows as one parameter. What JSON would carry and text columns refuse is made keepable first. */
function rowsAsJson(rows: readonly Columns[]): string {
  return JSON.stringify(
    rows.map((row) => Object.fromEntries(Object.entries(row).map(([column, value]) => [column, keepable(value)]))),
  );
}

/** The names of the columns that rows fill; of no rows, any one will do. */
function namesIn(rows: readonly Columns[], any: string): RawBuilder<unknown> {
  return sql.join(Object.keys(rows[0] ?? { [any]: null }).map((name) => sql.id(name)));
}

/**
 * What a text writes, gathered and written in one statement. The order that matters is kept: work is dropped before work
 * with the same key is added; and nothing is written twice in one flush.
 */
export class TextWrites {
  #added: Columns | null = null;
  #saved: Columns | null = null;
  #guest: GuestPhone | null = null;
  #entries: Columns[] = [];
  #settled: Columns | null = null;
  #dropped = new Map<string, Instant>();
  #work: NewWork[] = [];

  get waiting(): boolean {
    return (
      this.#added !== null ||
      this.#saved !== null ||
      this.#guest !== null ||
      this.#entries.length > 0 ||
      this.#settled !== null ||
      this.#dropped.size > 0 ||
      this.#work.length > 0
    );
  }

  /** Whether a row of work with that key is about to be added. */
  adds(key: string): boolean {
    return this.#work.some((work) => work.key === key);
  }

  addConversation(conversation: Conversation): void {
    this.#added = { id: conversation.id, ...columnsOfConversation(conversation) };
  }

  /** Of the conversation that is about to be added too. */
  saveConversation(conversation: Conversation): void {
    const columns = { id: conversation.id, ...columnsOfConversation(conversation) };
    if (this.#added?.['id'] === conversation.id) this.#added = columns;
    else this.#saved = columns;
  }

  /** Whether another conversation than this one is about to be saved. */
  savesOther(conversationId: number): boolean {
    return this.#saved !== null && this.#saved['id'] !== conversationId;
  }

  saveGuest(guest: GuestPhone): void {
    this.#guest = guest;
  }

  addEntry(id: number, entry: NewEntry): void {
    this.#entries.push({ id, ...entryColumnsOf(entry) });
  }

  settle(id: string, reply: string | null, replyEntryId: number | null): void {
    this.#settled = { id, reply, reply_entry_id: replyEntryId };
  }

  dropWork(key: string, at: Instant): void {
    this.#dropped.set(key, at);
  }

  addWork(work: NewWork): void {
    this.#work.push(work);
  }

  /** Writes it all. @throws when a conversation that is saved has no row */
  async flush({ db, noteWork }: Handle): Promise<void> {
    if (!this.waiting) return;
    const [added, saved, guest, settled] = [this.#added, this.#saved, this.#guest, this.#settled].map((row) =>
      row === null ? [] : [row],
    ) as Columns[][];
    const guests = (guest as unknown as GuestPhone[]).map((each) => ({
      phone: each.phone,
      lang: each.lang,
      opted_out_at: each.optedOutAt,
    }));
    const drops = [...this.#dropped].map(([key, at]) => ({ key, at }));
    const work = this.#work.map(columnsOfWork);
    const ofAdded = namesIn(added ?? [], 'id');
    const ofSaved = namesIn(
      (saved ?? []).map(({ id: _, ...columns }) => columns),
      'phone',
    );
    const ofEntries = namesIn(this.#entries, 'id');
    const ofWork = namesIn(work, 'kind');
    const { rows } = await sql<{
      saved: number;
      work: { id: number; kind: string; danger: number; due_at: Instant }[];
    }>`
      ${KEPT} with dropped as (
        update work set done_at = d.at, result = 'dropped'
        from json_to_recordset(${rowsAsJson(drops)}::json) as d(key text, at text)
        where work.key = d.key and work.done_at is null returning work.id
      ),
      conversation_added as (
        insert into conversations (${ofAdded}) overriding system value
        select ${ofAdded} from json_populate_recordset(null::conversations, ${rowsAsJson(added ?? [])}::json)
      ),
      conversation_saved as (
        update conversations set (${ofSaved}) = (
          select ${ofSaved} from json_populate_recordset(null::conversations, ${rowsAsJson(saved ?? [])}::json)
        )
        where id in (select id from json_populate_recordset(null::conversations, ${rowsAsJson(saved ?? [])}::json))
        returning id
      ),
      guest_saved as (
        update guests set lang = g.lang, opted_out_at = g.opted_out_at
        from json_populate_recordset(null::guests, ${rowsAsJson(guests)}::json) as g where guests.phone = g.phone
      ),
      entries_added as (
        insert into entries (${ofEntries}) overriding system value
        select ${ofEntries} from json_populate_recordset(null::entries, ${rowsAsJson(this.#entries)}::json)
      ),
      settled as (
        update messages set reply = m.reply, reply_entry_id = m.reply_entry_id
        from json_populate_recordset(null::messages, ${rowsAsJson(settled ?? [])}::json) as m where messages.id = m.id
      ),
      work_added as (
        insert into work (${ofWork})
        select ${ofWork} from json_populate_recordset(null::work, ${rowsAsJson(work)}::json)
        -- To count what is dropped makes it be dropped first: a key is free for the row that replaces the old one.
        where (select count(*) from dropped) >= 0
        on conflict (key) where done_at is null do nothing
        returning id, kind, danger, due_at
      )
      select (select count(*)::int from conversation_saved) as saved,
        (select coalesce(json_agg(work_added), '[]'::json) from work_added) as work`.execute(db);
    const [written] = rows;
    if (written?.saved !== (saved?.length ?? 0))
      throw new Error('Records: a conversation that was to be saved is gone');
    for (const { id, kind, danger, due_at: dueAt } of written.work) {
      noteWork?.({ id, tries: 0, kind, danger: danger === 1, dueAt });
    }
    this.#added = this.#saved = this.#guest = this.#settled = null;
    this.#entries = [];
    this.#dropped = new Map();
    this.#work = [];
  }
}
