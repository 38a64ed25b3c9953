import { after } from '../../time/instant.ts';
import { QUIET_AFTER } from '../guest/conversation-life.ts';
import { lookForQuiet } from '../guest/reply.ts';
import type { Tx, Work } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/**
 * Four hours without a word: the conversation is over, unless a callout is open. Where something was said since this look
 * was planned, or while a human has the matter, it looks again later.
 */
export async function goQuiet(desk: Surroundings, tx: Tx, row: Work, conversationId: number): Promise<string> {
  const now = desk.now();
  const before = await tx.conversation(conversationId);
  if (before === null || before.ending !== null) return 'ended before';
  await tx.lockPhone(before.phone);
  const conversation = (await tx.conversation(conversationId)) ?? before;
  const said = (await tx.entries(conversation.id)).at(-1)?.at ?? conversation.lastGuestAt;
  const quietAt = after(said, QUIET_AFTER);
  const calloutOpen = (await tx.openCallouts(conversation.id)).length > 0;
  if (!calloutOpen && now >= quietAt) {
    await tx.saveConversation({ ...conversation, ending: 'gave-up', endedAt: now });
    return 'gave up';
  }
  const result = calloutOpen ? 'a callout is open' : 'something was said since';
  // Before the next look, which has the same key.
  await tx.finishWork(row.id, result, now);
  await lookForQuiet(tx, conversation.id, now < quietAt ? quietAt : after(now, QUIET_AFTER));
  return result;
}
