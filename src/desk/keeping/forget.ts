import { dayIn } from '../../time/calendar.ts';
import type { Instant } from '../../time/instant.ts';
import { readablePhone } from '../callout/brief.ts';
import type { Records, Tx } from '../records.ts';
import { afterVisitKey, quietKey, silenceKey } from '../work-kinds.ts';
import type { Forgotten } from './records.ts';

/** Why a phone is not forgotten now, in words that say what to do. */
export class NotForgotten extends Error {
  override readonly name = 'NotForgotten';
}

/** What falls due for conversations that are no more. */
export async function dropWaits(tx: Tx, conversationIds: readonly number[], at: Instant): Promise<void> {
  for (const id of conversationIds) {
    for (const key of [silenceKey(id), afterVisitKey(id), quietKey(id)]) await tx.dropWork(key, at);
  }
}

/** @throws NotForgotten while the phone belongs to someone whom the desk may have to help tonight */
async function mustNotBeNeeded(tx: Tx, phone: string, conversationIds: readonly number[], at: Instant): Promise<void> {
  for (const { lastDay, zone } of await tx.keeping.rentalsWith(phone)) {
    if (lastDay >= dayIn(zone, at)) {
      throw new NotForgotten(
        `The phone is on a rental up to ${lastDay}: without it the desk could not tell a dispatcher where the guest is. ` +
          'Forget it after that day, or take the phone off the rental first.',
      );
    }
  }
  const open = new Set<number>();
  for (const id of conversationIds) for (const callout of await tx.openCallouts(id)) open.add(callout.id);
  if (open.size > 0) {
    throw new NotForgotten(
      `Callout ${[...open].join(', ')} of this phone is still open: close it first (DONE and a note).`,
    );
  }
}

/**
 * Takes a guest's words and number out of the records, in one transaction, and leaves a note that does not say whose. The
 * counts stay: conversations, their times and endings, callouts and how long they took.
 *
 * @param phone E.164
 * @throws NotForgotten while a rental or a callout needs the phone
 */
export function forget(
  records: Pick<Records, 'transaction'>,
  phone: string,
  { by, at }: { readonly by: string; readonly at: Instant },
): Promise<Forgotten> {
  return records.transaction(async (tx) => {
    await tx.lockPhone(phone);
    const conversationIds = await tx.keeping.conversationsWith(phone);
    await mustNotBeNeeded(tx, phone, conversationIds, at);
    const callouts = new Set<number>();
    for (const id of conversationIds) for (const callout of await tx.callouts(id)) callouts.add(callout.id);
    const forgotten = await tx.keeping.forgetConversations(conversationIds);
    await tx.keeping.forgetPhone(phone, { spellings: [phone, readablePhone(phone)], calloutIds: [...callouts], at });
    await dropWaits(tx, conversationIds, at);
    await tx.keeping.note({ at, by, what: 'forget', details: { ...forgotten } });
    return forgotten;
  });
}
