import type { Instant } from '../../time/instant.ts';
import type { Callout, Tx } from '../records.ts';

/** What stands in an entry's `step` when it is about the trying of people, and was said to no guest. */
export const TRYING_STEP = 'callout';

/** An attempt to reach someone, or what came of it, as an entry of the conversation the callout began with. */
export async function noteAttempt(tx: Tx, callout: Callout, words: string, now: Instant): Promise<void> {
  await tx.addEntry({
    conversationId: callout.conversationId,
    at: now,
    who: 'desk',
    words: `callout ${callout.id}: ${words}`,
    heard: null,
    step: TRYING_STEP,
    media: [],
    messageId: null,
  });
}
