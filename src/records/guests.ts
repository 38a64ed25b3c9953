import type { GuestPhone } from '../desk/records.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import { prepared } from './prepared.ts';

const phoneRow = prepared<{ phone: string }>()(({ db, locks }, { phone }) =>
  db
    .selectFrom('guests')
    .selectAll()
    .where('phone', '=', phone)
    .$if(locks, (query) => query.forUpdate()),
);

const insertPhone = prepared<{ phone: string }>()(({ db }, { phone }) =>
  db
    .insertInto('guests')
    .values({ phone, lang: null, opted_out_at: null })
    .onConflict((conflict) => conflict.column('phone').doNothing())
    .returningAll(),
);

/** Holds the phone's row until the transaction ends, so that its texts queue; a phone that has none is inserted first. */
export async function lockPhone(handle: Handle, phone: string): Promise<GuestPhone> {
  const row =
    (await phoneRow(handle, { phone }))[0] ??
    (await insertPhone(handle, { phone }))[0] ??
    // Another transaction inserted it in between; a statement of its own waits for that one and sees it.
    (await phoneRow(handle, { phone }))[0];
  if (row === undefined) throw new Error('Records: a phone was inserted and is not there.');
  return { phone: row.phone, lang: row.lang, optedOutAt: row.opted_out_at };
}

/** Inserts the phone or replaces what is known of it. */
export async function savePhone({ db }: Handle, guest: GuestPhone): Promise<void> {
  const known = { lang: guest.lang, opted_out_at: guest.optedOutAt };
  await db
    .insertInto('guests')
    .values({ phone: guest.phone, ...known })
    .onConflict((conflict) => conflict.column('phone').doUpdateSet(known))
    .execute();
}

/** Keeps that a text to the phone could not be delivered, or, with null, that one was. */
export async function saveTextsLost({ db }: Handle, phone: string, at: Instant | null): Promise<void> {
  await db.updateTable('guests').set({ texts_lost_at: at }).where('phone', '=', phone).execute();
}

/** Since when texts to the phone do not arrive; null while they do, as far as is known. */
export async function textsLostAt({ db }: Handle, phone: string): Promise<Instant | null> {
  const row = await db.selectFrom('guests').select('texts_lost_at').where('phone', '=', phone).executeTakeFirst();
  return row?.texts_lost_at ?? null;
}
