import type { Handle } from '../../records/engine.ts';
import type { OpenRecords } from '../../records/open.ts';
import type { Row, Tables } from '../../records/schema.ts';
import { instantOfMs, msOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';

/** Conversations whose rows are written by one statement for each table. */
const AT_ONCE = 250;
/** A rental has so many conversations. */
const A_RENTAL = 3;
const NIGHT_MS = 24 * 3_600_000;

/** A conversation that was really had, with all its rows. */
interface Had {
  readonly conversation: Row<'conversations'>;
  readonly entries: readonly Row<'entries'>[];
  readonly callouts: readonly (Row<'callouts'> & { readonly offers: readonly Row<'offers'>[] })[];
  readonly work: readonly Row<'work'>[];
}

async function everyHad({ db }: Handle): Promise<readonly Had[]> {
  const had: Had[] = [];
  for (const conversation of await db.selectFrom('conversations').selectAll().orderBy('id').execute()) {
    const entries = db.selectFrom('entries').selectAll().where('conversation_id', '=', conversation.id);
    const callouts = db.selectFrom('callouts').selectAll().where('conversation_id', '=', conversation.id);
    const withOffers = [];
    for (const callout of await callouts.execute()) {
      const offers = await db.selectFrom('offers').selectAll().where('callout_id', '=', callout.id).execute();
      withOffers.push({ ...callout, offers });
    }
    const work = await db.selectFrom('work').selectAll().where('phone', '=', conversation.phone).execute();
    had.push({ conversation, entries: await entries.orderBy('id').execute(), callouts: withOffers, work });
  }
  return had;
}

/** Rows to insert, by table, in an order in which every row finds what it refers to. */
const ORDER = [
  'rentals',
  'rental_phones',
  'guests',
  'conversations',
  'entries',
  'callouts',
  'callout_conversations',
  'offers',
  'work',
  'text_states',
] as const satisfies readonly (keyof Tables)[];
type Rows = Record<(typeof ORDER)[number], object[]>;

async function write({ db }: Handle, rows: Rows): Promise<void> {
  for (const table of ORDER) {
    const all = rows[table];
    // SQLite takes 32,766 values a statement.
    for (let from = 0; from < all.length; from += 1000) {
      await db
        .insertInto(table)
        .values(all.slice(from, from + 1000))
        .execute();
    }
  }
}

export interface Wanted {
  readonly conversations: number;
  readonly aNight: number;
  /** The last of them begins before this. */
  readonly until: Instant;
}

/**
 * Copies the conversations that the records hold, in turn, until there are so many: so many a night, the latest in the
 * running one, over rentals, units and properties of which the rentals grow with the years.
 */
export async function fillNights(records: OpenRecords, { conversations, aNight, until }: Wanted): Promise<void> {
  const { had, stays, last } = await records.viewTables(async (handle) => ({
    had: await everyHad(handle),
    stays: await handle.db.selectFrom('rentals').selectAll().orderBy('id').execute(),
    last: await lastIds(handle),
  }));
  for (let first = 0; first < conversations; first += AT_ONCE) {
    const rows: Rows = {
      rentals: [],
      rental_phones: [],
      guests: [],
      conversations: [],
      entries: [],
      callouts: [],
      callout_conversations: [],
      offers: [],
      work: [],
      text_states: [],
    };
    for (let n = first; n < Math.min(conversations, first + AT_ONCE); n += 1) {
      const template = had[n % had.length];
      const rentalId = last.rental + 1 + Math.floor(n / A_RENTAL);
      const stay = stays[rentalId % stays.length];
      if (template === undefined || stay === undefined) throw new Error('There is no conversation to copy.');
      const phone = `+1555${String(1_000_000 + Math.floor(n / A_RENTAL)).padStart(7, '0')}`;
      const openedAt = msOf(until) - Math.floor(((n + 1) * NIGHT_MS) / aNight);
      const shift = openedAt - msOf(template.conversation.opened_at);
      const moved = <T extends Instant | null>(at: T): T => (at === null ? at : (instantOfMs(msOf(at) + shift) as T));
      if (n % A_RENTAL === 0) {
        const day = instantOfMs(openedAt).slice(0, 10);
        rows.rentals.push({ ...stay, id: rentalId, guest_name: `Guest ${rentalId}`, first_day: day, last_day: day });
        rows.rental_phones.push({ rental_id: rentalId, phone });
        rows.guests.push({ phone, lang: template.conversation.lang, opted_out_at: null, texts_lost_at: null });
      }
      const id = last.conversation + 1 + n;
      rows.conversations.push({
        ...template.conversation,
        id,
        phone,
        rental_id: rentalId,
        property_id: stay.property_id,
        room: stay.room,
        opened_at: moved(template.conversation.opened_at),
        last_guest_at: moved(template.conversation.last_guest_at),
        ended_at: moved(template.conversation.ended_at),
      });
      const entryIds = new Map<number, number>();
      for (const entry of template.entries) {
        last.entry += 1;
        entryIds.set(entry.id, last.entry);
        rows.entries.push({
          ...entry,
          id: last.entry,
          conversation_id: id,
          at: moved(entry.at),
          message_id: entry.message_id === null ? null : `SM-${n}-${entry.id}`,
        });
        if (entry.who === 'desk') {
          rows.text_states.push({ text: `reply-${last.entry}`, state: 'arrived', rank: 2, at: moved(entry.at) });
        }
      }
      for (const { offers, ...callout } of template.callouts) {
        last.callout += 1;
        rows.callouts.push({
          ...callout,
          id: last.callout,
          conversation_id: id,
          key: `${callout.key}-${n}`,
          status: 'done',
          opened_at: moved(callout.opened_at),
          taken_at: moved(callout.taken_at),
          done_at: moved(callout.done_at ?? callout.opened_at),
        });
        const joined = { joined_at: moved(callout.opened_at), told_at: moved(callout.taken_at) };
        rows.callout_conversations.push({ callout_id: last.callout, conversation_id: id, ...joined });
        for (const { id: _, ...offer } of offers) {
          rows.offers.push({ ...offer, callout_id: last.callout, at: moved(offer.at) });
        }
      }
      for (const { id: _, ...work } of template.work) {
        const payload = JSON.parse(work.payload_json) as { entryId?: number };
        const entryId = payload.entryId === undefined ? undefined : entryIds.get(payload.entryId);
        rows.work.push({
          ...work,
          phone,
          key: work.key === null ? null : `${work.key}-${n}`,
          payload_json: JSON.stringify({ ...payload, ...(entryId === undefined ? {} : { entryId }) }),
          due_at: moved(work.due_at),
          free_at: moved(work.free_at),
          done_at: moved(work.done_at ?? work.due_at),
          result: work.result ?? 'dropped',
        });
      }
    }
    await records.onTables((handle) => write(handle, rows));
  }
}

async function lastIds({ db }: Handle) {
  const last = async (table: 'rentals' | 'conversations' | 'entries' | 'callouts'): Promise<number> => {
    const row = await db
      .selectFrom(table)
      .select((is) => is.fn.max<number>('id').as('id'))
      .executeTakeFirst();
    return row?.id ?? 0;
  };
  return {
    rental: await last('rentals'),
    conversation: await last('conversations'),
    entry: await last('entries'),
    callout: await last('callouts'),
  };
}
