import type { Forgotten, KeepingTx, RentalOfPhone } from '../desk/keeping/records.ts';
import type { Day } from '../time/calendar.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import { addKeepingNote } from './keeping-notes.ts';

/** Phones of guests who were forgotten: no number, but the same for one guest, so that guests can still be counted. */
const FORGOTTEN = 'forgotten-';
const FORGOTTEN_GUEST = 'Forgotten guest';

/** Of what the desk made of a text, the parts that hold none of its words. */
function withoutWords(heardJson: string): string {
  const heard = JSON.parse(heardJson) as Record<string, unknown> | null;
  if (heard === null) return heardJson;
  return JSON.stringify({ ...heard, why: [], place: {} });
}

async function forgetEntries({ db }: Handle, conversationId: number): Promise<number> {
  const rows = await db
    .selectFrom('entries')
    .select(['id', 'heard_json'])
    .where('conversation_id', '=', conversationId)
    .execute();
  for (const { id, heard_json } of rows) {
    const emptied = { words: '', media_json: '[]', heard_json: withoutWords(heard_json) };
    await db.updateTable('entries').set(emptied).where('id', '=', id).execute();
  }
  return rows.length;
}

async function forgetCallouts({ db }: Handle, conversationId: number): Promise<number> {
  const changed = await db
    .updateTable('callouts')
    .set({ brief: '', note: null })
    .where('id', 'in', (query) =>
      query.selectFrom('callout_conversations').select('callout_id').where('conversation_id', '=', conversationId),
    )
    .returning('id')
    .execute();
  return changed.length;
}

/** The name in place of a phone, from the first of its conversations. */
async function nameFor(
  { db }: Handle,
  phone: string,
  conversationId: number,
  given: Map<string, string>,
): Promise<string> {
  const before = given.get(phone);
  if (before !== undefined) return before;
  const name = `${FORGOTTEN}${conversationId}`;
  given.set(phone, name);
  await db
    .insertInto('guests')
    .values({ phone: name, lang: null, opted_out_at: null })
    .onConflict((conflict) => conflict.column('phone').doNothing())
    .execute();
  return name;
}

/** Calls of a conversation keep that they were, and nothing of who or what; messages that were left are let go of. */
async function forgetCalls({ db }: Handle, conversationId: number, name: string): Promise<void> {
  await db.deleteFrom('recordings').where('conversation_id', '=', conversationId).execute();
  await db
    .updateTable('incoming_calls')
    .set({ phone: name, standing_json: '{"at":"over","misses":0}', waits_for: null })
    .where('conversation_id', '=', conversationId)
    .execute();
}

async function forgetConversations(handle: Handle, ids: readonly number[]): Promise<Forgotten> {
  const { db } = handle;
  const names = new Map<string, string>();
  let entries = 0;
  let callouts = 0;
  for (const id of ids) {
    const { phone } = await db
      .selectFrom('conversations')
      .select('phone')
      .where('id', '=', id)
      .executeTakeFirstOrThrow();
    entries += await forgetEntries(handle, id);
    callouts += await forgetCallouts(handle, id);
    const name = await nameFor(handle, phone, id, names);
    await forgetCalls(handle, id, name);
    const emptied = {
      phone: name,
      room: null,
      state: '{}',
      engine: 0,
      last_reply: null,
    };
    await db.updateTable('conversations').set(emptied).where('id', '=', id).execute();
  }
  return { conversations: ids.length, entries, callouts };
}

/** Rows of work that say any of the spellings, or go to technicians about one of the callouts. */
async function workAbout(
  { db }: Handle,
  spellings: readonly string[],
  calloutIds: readonly number[],
): Promise<readonly number[]> {
  const parts = [...spellings, ...calloutIds.map((id) => `"Callout ${id}`)];
  const rows = await db
    .selectFrom('work')
    .select(['id', 'payload_json', 'key'])
    .where((row) =>
      row.or([
        ...parts.map((part) => row('payload_json', 'like', `%${part}%`)),
        ...spellings.map((spelling) => row('key', 'like', `%${spelling}%`)),
      ]),
    )
    .execute();
  // "Callout 1" is also how "Callout 12" begins.
  const about = calloutIds.map((id) => new RegExp(`"Callout ${id}\\D`));
  return rows
    .filter(
      ({ payload_json, key }) =>
        spellings.some((spelling) => payload_json.includes(spelling) || key?.includes(spelling) === true) ||
        about.some((pattern) => pattern.test(payload_json)),
    )
    .map(({ id }) => id);
}

async function forgetWork(handle: Handle, phone: string, { spellings, calloutIds, at }: Traces): Promise<void> {
  const { db } = handle;
  const ids = await workAbout(handle, spellings, calloutIds);
  await db
    .updateTable('work')
    .set({ done_at: at, result: 'forgotten' })
    .where('done_at', 'is', null)
    .where((row) => row.or([row('phone', '=', phone), ...(ids.length === 0 ? [] : [row('id', 'in', ids)])]))
    .execute();
  await db
    .updateTable('work')
    .set({ phone: null, key: null, payload_json: 'null' })
    .where((row) => row.or([row('phone', '=', phone), ...(ids.length === 0 ? [] : [row('id', 'in', ids)])]))
    .execute();
}

async function rentalsWith(
  { db }: Handle,
  phone: string,
): Promise<readonly (RentalOfPhone & { readonly id: number })[]> {
  const rows = await db
    .selectFrom('rental_phones')
    .innerJoin('rentals', 'rentals.id', 'rental_phones.rental_id')
    .innerJoin('properties', 'properties.id', 'rentals.property_id')
    .select(['rentals.id', 'rentals.last_day', 'properties.zone'])
    .select((row) =>
      row
        .selectFrom('rental_phones as others')
        .select((other) => other.fn.countAll().as('count'))
        .whereRef('others.rental_id', '=', 'rentals.id')
        .as('phones'),
    )
    .where('rental_phones.phone', '=', phone)
    .orderBy('rentals.id')
    .execute();
  return rows.map(({ id, last_day, zone, phones }) => ({
    id,
    lastDay: last_day,
    zone,
    otherPhones: Number(phones) - 1,
  }));
}

async function emptyRentals({ db }: Handle, ids: readonly number[]): Promise<void> {
  if (ids.length === 0) return;
  await db.deleteFrom('rental_phones').where('rental_id', 'in', ids).execute();
  await db
    .updateTable('rentals')
    .set({ guest_name: FORGOTTEN_GUEST, order_json: null, booking: null })
    .where('id', 'in', ids)
    .execute();
}

interface Traces {
  readonly spellings: readonly string[];
  readonly calloutIds: readonly number[];
  readonly at: Instant;
}

async function forgetPhone(handle: Handle, phone: string, traces: Traces): Promise<void> {
  const { db } = handle;
  await forgetWork(handle, phone, traces);
  await db.deleteFrom('messages').where('phone', '=', phone).execute();
  await db
    .updateTable('messages')
    .set({ reply: null })
    .where((row) =>
      row.or([
        ...traces.spellings.map((spelling) => row('reply', 'like', `%${spelling}%`)),
        ...traces.calloutIds.map((id) => row('reply', 'like', `Callout ${id} is yours.%`)),
      ]),
    )
    .execute();
  const rentals = await rentalsWith(handle, phone);
  await emptyRentals(
    handle,
    rentals.filter(({ otherPhones }) => otherPhones === 0).map(({ id }) => id),
  );
  await db.deleteFrom('rental_phones').where('phone', '=', phone).execute();
  // Those of its conversations have another name by now: these are calls in which nothing was said.
  await db.deleteFrom('incoming_calls').where('phone', '=', phone).execute();
  await db.deleteFrom('guests').where('phone', '=', phone).execute();
}

async function lapsedConversations({ db }: Handle, before: Instant, most: number): Promise<readonly number[]> {
  const rows = await db
    .selectFrom('conversations')
    .select('id')
    .where('last_guest_at', '<', before)
    .where('phone', 'not like', `${FORGOTTEN}%`)
    .where((row) =>
      row.not(
        row.exists(
          row
            .selectFrom('callout_conversations')
            .innerJoin('callouts', 'callouts.id', 'callout_conversations.callout_id')
            .select('callouts.id')
            .whereRef('callout_conversations.conversation_id', '=', 'conversations.id')
            .where('callouts.status', '<>', 'done'),
        ),
      ),
    )
    .orderBy('last_guest_at')
    .orderBy('id')
    .limit(most)
    .execute();
  return rows.map(({ id }) => id);
}

async function forgetRentals(handle: Handle, before: Day): Promise<number> {
  const rows = await handle.db
    .selectFrom('rentals')
    .select('id')
    .where('last_day', '<', before)
    .where('guest_name', '<>', FORGOTTEN_GUEST)
    .execute();
  await emptyRentals(
    handle,
    rows.map(({ id }) => id),
  );
  return rows.length;
}

async function clearRest({ db }: Handle, before: Instant): Promise<void> {
  await db.deleteFrom('work').where('done_at', '<', before).execute();
  await db.deleteFrom('messages').where('at', '<', before).execute();
  await db.deleteFrom('incoming_calls').where('opened_at', '<', before).where('conversation_id', 'is', null).execute();
  await db
    .deleteFrom('guests')
    .where('opted_out_at', 'is', null)
    .where((row) =>
      row.not(
        row.or([
          row.exists(
            row
              .selectFrom('conversations')
              .select('conversations.id')
              .whereRef('conversations.phone', '=', 'guests.phone'),
          ),
          row.exists(
            row
              .selectFrom('incoming_calls')
              .select('incoming_calls.id')
              .whereRef('incoming_calls.phone', '=', 'guests.phone'),
          ),
          row.exists(
            row
              .selectFrom('rental_phones')
              .select('rental_phones.rental_id')
              .whereRef('rental_phones.phone', '=', 'guests.phone'),
          ),
        ]),
      ),
    )
    .execute();
}

/** What is asked of the records to forget, on an open transaction. */
export function keepingOn(handle: Handle): KeepingTx {
  return {
    async conversationsWith(phone) {
      const rows = await handle.db
        .selectFrom('conversations')
        .select('id')
        .where('phone', '=', phone)
        .orderBy('id')
        .execute();
      return rows.map(({ id }) => id);
    },
    rentalsWith: (phone) => rentalsWith(handle, phone),
    forgetConversations: (ids) => forgetConversations(handle, ids),
    forgetPhone: (phone, traces) => forgetPhone(handle, phone, traces),
    lapsedConversations: (before, most) => lapsedConversations(handle, before, most),
    forgetRentals: (before) => forgetRentals(handle, before),
    clearRest: (before) => clearRest(handle, before),
    note: (note) => addKeepingNote(handle, note),
  };
}
