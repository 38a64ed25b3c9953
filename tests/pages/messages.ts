import { GUEST } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';

export const MESSAGE_AT = 'https://api.twilio.com/2010-04-01/Accounts/AC1/Recordings/RE1';
/** The first bytes of a WAV file. */
export const A_WAV = new TextEncoder().encode('RIFF\0\0\0\0WAVEfmt ');

/** The guest has called and left a message for their open callout, as `tests/caller` plays it whole. The carrier keeps it. */
export async function leaveMessage(desk: NightDesk, bytes: Uint8Array = A_WAV): Promise<void> {
  desk.carrier.media.set(MESSAGE_AT, bytes);
  await desk.records.transaction(async (tx) => {
    const conversationId = (await tx.latestConversation(GUEST))?.id ?? 0;
    const calloutId = (await tx.openCallouts(conversationId))[0]?.id ?? 0;
    await tx.addRecording({ calloutId, conversationId, address: MESSAGE_AT, lengthS: 14, at: desk.now() });
  });
}
