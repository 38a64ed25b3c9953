import { dayIn, instantAt } from '../../time/calendar.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { SettingSheet } from '../property.ts';
import type { NewWork, StayWithPhones, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { PLAN_KEY, refillKey } from '../work-kinds.ts';
import { retentionOn } from './retention.ts';
import { SUMMARY_AT } from './summary.ts';
import { bottleOf } from './bottle.ts';
import { lowWhenFilledAt, nextLow, refillDue } from './refill.ts';
import { dayOfNotice } from './stay-notices.ts';
import type { StayNotice } from './stay-notices.ts';

/** How often the rentals and the calendar are looked at: how soon a rental entered today is noticed. */
const LOOK_EVERY = 'PT1H';
/** Units are brought in the afternoon; the first bottle is counted from here. */
const DELIVERED_AT = '15:00';
/** When a notice of a stay is sent on its day, where the unit stands. */
const NOTICE_AT: Readonly<Record<StayNotice, string>> = { welcome: DELIVERED_AT, collection: '16:00' };
const DRILL_REMINDER_AT = '10:00';

type Planned = Pick<NewWork, 'kind' | 'dueAt' | 'payload'> & { readonly key: string };

async function planOnce(tx: Tx, planned: Planned): Promise<void> {
  await tx.planWork({ notAfter: null, phone: null, danger: false, ...planned });
}

/** The notices of a stay that fall on today. Planned once per phone and day, however often it is looked. */
function noticesToday({ stay, phones }: StayWithPhones, today: string, now: Instant): readonly Planned[] {
  return (['welcome', 'collection'] as const)
    .filter((notice) => dayOfNotice(notice, stay) === today)
    .flatMap((notice) => {
      const wanted = instantAt(today, NOTICE_AT[notice], stay.property.zone);
      return phones.map((phone) => ({
        kind: notice,
        dueAt: wanted < now ? now : wanted,
        key: `${notice}:${stay.rentalId}:${phone}:${today}`,
        payload: { rentalId: stay.rentalId, phone, day: today },
      }));
    });
}

/** The first reminder of a stay that stands; each plans the next. Until the guest says otherwise, filled at delivery. */
async function planFirstRefill(
  { flows: { book } }: Surroundings,
  tx: Tx,
  { stay }: StayWithPhones,
  sheet: SettingSheet | null,
  now: Instant,
): Promise<void> {
  const delivered = instantAt(stay.firstDay, DELIVERED_AT, stay.property.zone);
  const bottle = bottleOf(book, stay, sheet);
  const first = lowWhenFilledAt(bottle, delivered);
  const lowAt = first > now ? first : nextLow(bottle, first, now);
  const wanted = refillDue(book, lowAt, stay.property.zone);
  if (dayIn(stay.property.zone, lowAt) > stay.lastDay) return;
  await planOnce(tx, {
    kind: 'refill',
    dueAt: wanted < now ? now : wanted,
    key: refillKey(stay.rentalId),
    payload: { rentalId: stay.rentalId, lowAt },
  });
}

/** Stays in one transaction: texts wait while it runs. */
const STAYS_AT_ONCE = 20;

/**
 * Plans what the rentals and the calendar ask for in the time ahead, in parts that follow each other at once, and after the
 * last of them the next look. Idempotent: everything has a key that says what it is about, and what was ever planned under a
 * key is not planned again.
 * @param behindRental of which rental the last part was the end; 0 for a new look
 */
export async function planAhead(desk: Surroundings, tx: Tx, workId: number, behindRental: number): Promise<string> {
  const now = desk.now();
  if (behindRental === 0) await planCalendar(desk, tx, now);
  const stays = await tx.staysAround(now, { behindRental, most: STAYS_AT_ONCE });
  const sheet = await tx.settingSheet();
  for (const standing of stays) {
    const { stay } = standing;
    const today = dayIn(stay.property.zone, now);
    for (const notice of noticesToday(standing, today, now)) await planOnce(tx, notice);
    if (stay.firstDay <= today && today <= stay.lastDay) await planFirstRefill(desk, tx, standing, sheet, now);
  }
  await tx.finishWork(workId, `planned ${stays.length}`, now);
  const last = stays.length < STAYS_AT_ONCE ? undefined : stays.at(-1);
  if (last === undefined) await planLook(tx, after(now, LOOK_EVERY), null);
  else await planLook(tx, now, { behindRental: last.stay.rentalId });
  return `planned ${stays.length}`;
}

async function planCalendar(desk: Surroundings, tx: Tx, now: Instant): Promise<void> {
  const { zone } = desk.outfit;
  const lastAlive = (await tx.lastAlive()) ?? now;
  await tx.noteAlive(now);
  const today = dayIn(zone, now);
  for (const { kind, at, key, payload } of calendarOf(desk, today)) {
    const dueAt = instantAt(today, at, zone);
    // What fell due while the desk was down is made up for; what did before it was ever there is not.
    if (dueAt > lastAlive) await planOnce(tx, { kind, dueAt, key, payload });
  }
}

/** What the calendar asks for on a day. */
function calendarOf(desk: Surroundings, today: string) {
  const summary = { kind: 'summary', at: SUMMARY_AT, key: `summary:${today}`, payload: { day: today } } as const;
  const monthly = {
    kind: 'drill-reminder',
    at: DRILL_REMINDER_AT,
    key: `drill-reminder:${today}`,
    payload: null,
  } as const;
  const reminder = desk.drillReminder === 'monthly' && today.endsWith('-01') ? [monthly] : [];
  return [summary, ...reminder, ...retentionOn(desk, today)];
}

async function planLook(tx: Tx, dueAt: Instant, payload: { readonly behindRental: number } | null): Promise<void> {
  await tx.addWork({ kind: 'plan', dueAt, notAfter: null, key: PLAN_KEY, phone: null, danger: false, payload });
}

/** Has the rentals looked at as soon as the work is: the desk may have been down. */
export async function planNow(tx: Tx, now: Instant): Promise<void> {
  await planLook(tx, now, null);
  await tx.hastenWork(PLAN_KEY, now);
}
