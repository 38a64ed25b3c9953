import type { GuestPhone } from '../desk/records.ts';
import type { Handle } from './engine.ts';

/** Inserts the phone or leaves it, then holds its row until the transaction ends, so that its texts queue. */
export async function lockPhone({ db, locks }: Handle, phone: string): Promise<GuestPhone> {
  await db
    .insertInto('guests')
    .values({ phone, lang: null, opted_out_at: null })
    .onConflict((conflict) => conflict.column('phone').doNothing())
    .execute();
  const row = await db
    .selectFrom('guests')
    .selectAll()
    .where('phone', '=', phone)
    .$if(locks, (query) => query.forUpdate())
    .executeTakeFirstOrThrow();
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
