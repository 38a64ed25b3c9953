import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { guestsOf } from '../callout/words.ts';
import type { Callout, Tx, Work } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { afterVisitKey } from '../work-kinds.ts';
import { moveOn } from './move-on.ts';

/** How soon after a technician is done the guest is asked: while they are still awake. */
const ASK_AFTER = 'PT15M';

/**
 * Plans to ask the guests of a callout that is done. Not after danger, where only humans speak of the end, and not where
 * nobody had to come in the night.
 */
export async function planAfterVisit(tx: Tx, callout: Callout, now: Instant): Promise<void> {
  if (callout.urgency !== 'tonight') return;
  for (const { id, guestMessages } of await guestsOf(tx, callout)) {
    await tx.addWork({
      kind: 'after-visit',
      dueAt: after(now, ASK_AFTER),
      notAfter: null,
      key: afterVisitKey(id),
      phone: null,
      danger: false,
      payload: { conversationId: id, guestMessages },
    });
  }
}

/** Asks the guest whether the unit still runs well, unless they wrote since, or another callout is out for them. */
export async function askAfterVisit(
  desk: Surroundings,
  tx: Tx,
  work: Work,
  payload: { readonly conversationId: number; readonly guestMessages: number },
): Promise<string> {
  if ((await tx.openCallouts(payload.conversationId)).length > 0) return 'a callout is open';
  return moveOn(desk, tx, work, 'after-visit', payload);
}
