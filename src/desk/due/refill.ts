import type { FlowBook } from '../../flow/book.ts';
import { dayIn } from '../../time/calendar.ts';
import { daytimeUpTo } from '../../time/daytime.ts';
import { after, instantOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Stay } from '../property.ts';
import type { Tx, Work } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { bottleOf, lasts } from './bottle.ts';
import type { Bottle } from './bottle.ts';
import { refillKey } from '../work-kinds.ts';
import { addNotice, wordsForGuest } from './notice.ts';

/** A reminder that is later than this is left out: the bottle has been seen to, or the next reminder is near. */
const TOO_LATE = 'PT2H';

/** How long before a bottle is low to remind of it. @throws Error when it is missing there */
function noticeHours(book: FlowBook): number {
  const hours = book.limits.limits['refill-notice-h']?.value;
  if (hours === undefined)
    throw new Error('flows/limits.yaml: the limit "refill-notice-h" is missing; add it, in hours');
  return hours;
}

/** When a bottle that was filled then comes to its minimum line. */
export function lowWhenFilledAt(bottle: Bottle, filledAt: Instant): Instant {
  return after(filledAt, lasts(bottle));
}

/** When to remind of it: some time before, and in the daytime: what would run dry in the night is seen to in the evening. */
export function refillDue(book: FlowBook, lowAt: Instant, zone: string): Instant {
  return daytimeUpTo(after(lowAt, `-PT${Math.round(noticeHours(book) * 60)}M`), zone);
}

/** Plans the reminder for a bottle that is low then, in place of the one that was planned. None past the stay's last day. */
export async function planRefill(tx: Tx, book: FlowBook, stay: Stay, lowAt: Instant, now: Instant): Promise<void> {
  const { rentalId, lastDay, property } = stay;
  await tx.dropWork(refillKey(rentalId), now);
  if (dayIn(property.zone, lowAt) > lastDay) return;
  const wanted = refillDue(book, lowAt, property.zone);
  await tx.addWork({
    kind: 'refill',
    dueAt: wanted < now ? now : wanted,
    notAfter: null,
    key: refillKey(rentalId),
    phone: null,
    danger: false,
    payload: { rentalId, lowAt },
  });
}

/** The guest says that the bottle was filled so many hours ago: what was planned or is under way about it is void. */
export async function noteRefill(tx: Tx, book: FlowBook, stay: Stay, hoursAgo: number, now: Instant): Promise<void> {
  for (const phone of await tx.phonesOf(stay.rentalId)) await tx.dropWork(noticeKey(stay.rentalId, phone), now);
  const bottle = bottleOf(book, stay, await tx.settingSheet());
  const lowAt = lowWhenFilledAt(bottle, after(now, `-PT${Math.round(hoursAgo * 60)}M`));
  await planRefill(tx, book, stay, lowAt > now ? lowAt : lowWhenFilledAt(bottle, now), now);
}

const noticeKey = (rentalId: number, phone: string): string => `refill-text:${rentalId}:${phone}`;

/** Reminds the first phone of the rental that takes texts, and plans the next as if the bottle were filled now. */
export async function remindOfRefill(
  desk: Surroundings,
  tx: Tx,
  work: Work,
  payload: { readonly rentalId: number; readonly lowAt: string },
): Promise<string> {
  const now = desk.now();
  const { book } = desk.flows;
  const stay = await tx.stay(payload.rentalId);
  if (stay === null) return 'the stay is gone';
  const lowAt = instantOf(payload.lowAt);
  const late = now > after(work.dueAt, TOO_LATE);
  await tx.finishWork(work.id, late ? 'too late' : 'reminded', now);
  const bottle = bottleOf(book, stay, await tx.settingSheet());
  await planRefill(tx, book, stay, nextLow(bottle, lowAt, now), now);
  if (late || dayIn(stay.property.zone, now) > stay.lastDay) return 'too late';
  for (const phone of await tx.phonesOf(stay.rentalId)) {
    if ((await tx.lockPhone(phone)).optedOutAt !== null) continue;
    const body = await wordsForGuest(desk, tx, 'refill', { stay, phone });
    const notice = { to: phone, body, zone: stay.property.zone, key: noticeKey(stay.rentalId, phone) };
    await addNotice(tx, notice, now);
    return 'reminded';
  }
  return 'no phone of the stay takes texts';
}

/** The next time the bottle is low, if it is filled whenever it comes to that. */
export function nextLow(bottle: Bottle, lowAt: Instant, now: Instant): Instant {
  let next = lowWhenFilledAt(bottle, lowAt);
  while (next <= now) next = lowWhenFilledAt(bottle, next);
  return next;
}
