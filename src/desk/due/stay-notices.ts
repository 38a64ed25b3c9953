import { daysLater } from '../../time/calendar.ts';
import type { Stay } from '../property.ts';
import type { Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { addNotice, wordsForGuest } from './notice.ts';

/** What is told once about a stay, to each of its phones: who we are on its first day, and on the day before its last how it ends. */
export type StayNotice = 'welcome' | 'collection';

/** The day on which a notice of a stay is due, where the unit stands. */
export function dayOfNotice(notice: StayNotice, stay: Pick<Stay, 'firstDay' | 'lastDay'>): string {
  return notice === 'welcome' ? stay.firstDay : daysLater(stay.lastDay, -1);
}

/** Writes the words of a notice now, when the stay may have changed since it was planned. */
export async function tellOfStay(
  desk: Surroundings,
  tx: Tx,
  notice: StayNotice,
  planned: { readonly rentalId: number; readonly phone: string; readonly day: string },
): Promise<string> {
  const { rentalId, phone, day } = planned;
  const stay = await tx.stay(rentalId);
  if (stay === null || dayOfNotice(notice, stay) !== day) return 'the stay has changed';
  if (!(await tx.phonesOf(rentalId)).includes(phone)) return 'the phone is no longer the stay’s';
  if ((await tx.lockPhone(phone)).optedOutAt !== null) return 'the guest takes no texts';
  const body = await wordsForGuest(desk, tx, notice, { stay, phone });
  await addNotice(
    tx,
    { to: phone, body, zone: stay.property.zone, key: `${notice}-text:${rentalId}:${phone}` },
    desk.now(),
  );
  return 'told';
}
