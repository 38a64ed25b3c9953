import { sql } from 'kysely';
import { jsonArrayFrom, jsonObjectFrom } from 'kysely/helpers/postgres';
import type { Callout, Conversation, GuestPhone, OutletNoteOnRecord } from '../desk/records.ts';
import type { Property, SettingSheet, Stay } from '../desk/property.ts';
import type { Person } from '../roster/roster.ts';
import type { Instant } from '../time/instant.ts';
import { NOT_DONE, toCallout } from './callouts.ts';
import { toConversation } from './conversations.ts';
import type { Handle } from './engine.ts';
import { KEPT } from './kept-statements.ts';
import { prepared } from './prepared.ts';
import { daysAround, standsAt, staysIn, staysOnDays, toProperty, toSettingSheet, toStay } from './stays.ts';
import type { DaysAround } from './stays.ts';

/** What a text of a phone is answered from, read at once. */
export interface TextReads {
  readonly guest: GuestPhone & { readonly textsLostAt: Instant | null };
  readonly person: Person | null;
  readonly conversation: Conversation | null;
  /** Of that conversation, newest first. Not held: what changes them reads them again. */
  readonly openCallouts: readonly Callout[];
  /** The stay that the conversation knows, and those of the phone today. */
  readonly stay: Stay | null;
  readonly staysOfPhone: readonly Stay[];
  readonly property: Property | null;
  readonly settingSheet: SettingSheet | null;
  /** Of the rooms of those stays. */
  readonly outletNotes: readonly (OutletNoteOnRecord & { readonly propertyId: number; readonly roomKey: string })[];
  /** Numbers that rows to be written may have: three entries, one conversation. */
  readonly entryIds: readonly number[];
  readonly conversationIds: readonly number[];
}

/** Inserts the message id, or waits for whoever is inserting it; then holds the phone's row. False for a repeat. */
export async function claimText(
  { db }: Handle,
  { id, phone, at }: { readonly id: string; readonly phone: string; readonly at: Instant },
): Promise<boolean> {
  const { rows } = await sql<{ fresh: number }>`
    ${KEPT} with claimed as (
      insert into messages (id, phone, at) values (${id}, ${phone}, ${at}) on conflict (id) do nothing returning id
    ),
    -- Nothing is written over; the row is only held.
    held as (
      insert into guests (phone) values (${phone}) on conflict (phone) do update set phone = excluded.phone where false
    )
    select count(*)::int as fresh from claimed`.execute(db);
  return rows[0]?.fresh === 1;
}

/** One query, built once: to build it anew would cost more than the server needs to answer it. */
const readAtOnce = prepared<{ phone: string } & DaysAround>()((handle, { phone, dayBefore, dayAfter }) => {
  const { db } = handle;
  const latest = () =>
    db
      .selectFrom('conversations')
      .where('phone', '=', phone)
      .orderBy('last_guest_at', 'desc')
      .orderBy('id', 'desc')
      .limit(1);
  const rentalsOfPhone = () =>
    db.selectFrom('rental_phones').select('rental_phones.rental_id').where('rental_phones.phone', '=', phone);
  return db
    .selectNoFrom([
      jsonObjectFrom(db.selectFrom('guests').selectAll().where('phone', '=', phone)).as('guest'),
      jsonObjectFrom(
        db
          .selectFrom('people')
          .select(['id', 'name', 'phone', 'role'])
          .where('phone', '=', phone)
          .where('active', '=', 1),
      ).as('person'),
      jsonObjectFrom(latest().selectAll()).as('conversation'),
      jsonArrayFrom(
        db
          .selectFrom('callouts')
          .selectAll()
          .where(NOT_DONE)
          .where('id', 'in', (query) =>
            query
              .selectFrom('callout_conversations')
              .select('callout_id')
              .where('conversation_id', '=', latest().select('conversations.id')),
          )
          .orderBy('id', 'desc'),
      ).as('callouts'),
      jsonObjectFrom(staysIn(handle).where('rentals.id', '=', latest().select('conversations.rental_id'))).as('stay'),
      jsonArrayFrom(staysOnDays(handle, { dayBefore, dayAfter }).where('rentals.id', 'in', rentalsOfPhone())).as(
        'stays',
      ),
      jsonObjectFrom(
        db.selectFrom('properties').selectAll().where('id', '=', latest().select('conversations.property_id')),
      ).as('property'),
      jsonObjectFrom(
        db.selectFrom('setting_sheets').selectAll().orderBy('signed_on', 'desc').orderBy('id', 'desc').limit(1),
      ).as('sheet'),
      jsonArrayFrom(
        db
          .selectFrom('outlet_notes')
          .innerJoin('rentals', (join) =>
            join
              .onRef('rentals.property_id', '=', 'outlet_notes.property_id')
              .onRef('rentals.room_key', '=', 'outlet_notes.room_key'),
          )
          .select(['outlet_notes.property_id', 'outlet_notes.room_key', 'place', 'worked', 'at'])
          .distinctOn('outlet_notes.id')
          .where((rental) =>
            rental.or([
              rental('rentals.id', 'in', rentalsOfPhone()),
              rental('rentals.id', '=', latest().select('conversations.rental_id')),
            ]),
          )
          .orderBy('outlet_notes.id'),
      ).as('notes'),
      sql<number[]>`array[nextval('entries_id_seq'), nextval('entries_id_seq'), nextval('entries_id_seq')]::int[]`.as(
        'entry_ids',
      ),
      sql<number[]>`array[nextval('conversations_id_seq')]::int[]`.as('conversation_ids'),
    ])
    .modifyFront(KEPT);
});

/** Everything that most texts are answered from. To be read after the phone's row is held, so that it is of that moment. */
export async function readForText(handle: Handle, phone: string, at: Instant): Promise<TextReads> {
  const [read] = await readAtOnce(handle, { phone, ...daysAround(at) });
  if (read === undefined) throw new Error('Records: a query for one row gave none');
  const { guest, person, conversation, property, sheet } = read;
  if (guest === null) throw new Error('Records: the phone of a text has no row, though it was just held');
  return {
    guest: { phone, lang: guest.lang, optedOutAt: guest.opted_out_at, textsLostAt: guest.texts_lost_at },
    person,
    conversation: conversation === null ? null : toConversation(conversation),
    openCallouts: read.callouts.map(toCallout),
    stay: read.stay === null ? null : toStay(read.stay),
    staysOfPhone: read.stays.map(toStay).filter((stay) => standsAt(stay, at)),
    property: property === null ? null : toProperty(property),
    settingSheet: sheet === null ? null : toSettingSheet(sheet),
    outletNotes: read.notes.map(({ property_id, room_key, worked, ...note }) => ({
      ...note,
      worked: worked === 1,
      propertyId: property_id,
      roomKey: room_key,
    })),
    entryIds: read.entry_ids,
    conversationIds: read.conversation_ids,
  };
}
