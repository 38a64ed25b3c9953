import type { Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** Four hours without a word: the conversation is over, unless a callout is open. */
export async function goQuiet(desk: Surroundings, tx: Tx, conversationId: number): Promise<string> {
  const conversation = await tx.conversation(conversationId);
  if (conversation === null || conversation.ending !== null) return 'ended before';
  await tx.lockPhone(conversation.phone);
  const now = await tx.conversation(conversationId);
  if (now === null || now.lastGuestAt !== conversation.lastGuestAt) return 'the guest has written since';
  if ((await tx.openCallouts(conversation.id)).length > 0) return 'a callout is open';
  await tx.saveConversation({ ...now, ending: 'gave-up', endedAt: desk.now() });
  return 'gave up';
}
