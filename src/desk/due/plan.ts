import { dayIn, instantAt } from '../../time/calendar.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
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
async function planFirstRefill(desk: Surroundings, tx: Tx, { stay }: StayWithPhones, now: Instant): Promise<void> {
  const { book } = desk.flows;
  const delivered = instantAt(stay.firstDay, DELIVERED_AT, stay.property.zone);
  const bottle = bottleOf(book, stay, await tx.settingSheet());
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

/**
 * Plans what the rentals and the calendar ask for in the time ahead, and the next look. Idempotent: everything has a key
 * that says what it is about, and what was ever planned under a key is not planned again.
 */
export async function planAhead(desk: Surroundings, tx: Tx, workId: number): Promise<string> {
  const now = desk.now();
  const { zone } = desk.outfit;
  const lastAlive = (await tx.lastAlive()) ?? now;
  await tx.noteAlive(now);
  for (const standing of await tx.staysAround(now)) {
    const { stay } = standing;
    const today = dayIn(stay.property.zone, now);
    for (const notice of noticesToday(standing, today, now)) await planOnce(tx, notice);
    if (stay.firstDay <= today && today <= stay.lastDay) await planFirstRefill(desk, tx, standing, now);
  }
  const today = dayIn(zone, now);
  for (const { kind, at, key, payload } of calendarOf(desk, today)) {
    const dueAt = instantAt(today, at, zone);
    // What fell due while the desk was down is made up for; what did before it was ever there is not.
    if (dueAt > lastAlive) await planOnce(tx, { kind, dueAt, key, payload });
  }
  await tx.finishWork(workId, 'planned', now);
  await planNextLook(tx, after(now, LOOK_EVERY));
  return 'planned';
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

async function planNextLook(tx: Tx, dueAt: Instant): Promise<void> {
  await tx.addWork({ kind: 'plan', dueAt, notAfter: null, key: PLAN_KEY, phone: null, danger: false, payload: null });
}

/** Has the rentals looked at as soon as the work is: the desk may have been down. */
export async function planNow(tx: Tx, now: Instant): Promise<void> {
  await planNextLook(tx, now);
  await tx.hastenWork(PLAN_KEY, now);
}
