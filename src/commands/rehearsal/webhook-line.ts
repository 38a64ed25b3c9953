import { spokenInTwiml } from '../../carrier/caller-document.ts';
import { VOICE_PATH, VOICE_STATUS_PATH, VOICE_TURN_PATH, VOICE_WAIT_PATH } from '../../carrier/caller-twiml.ts';
import type { RawAnswer } from '../../carrier/signed-post.ts';
import type { FromCaller } from '../../desk/carrier.ts';
import type { CallLine } from '../caller-on-line.ts';

/** What the carrier puts in the place of a hidden number. */
const HIDDEN = '+266696687';

/** The carrier's word for how a caller left the queue; from general knowledge of its documents. */
const QUEUE_RESULT = { talked: 'bridged', left: 'leave', gone: 'hangup', failed: 'system-error' } as const;

function formOf(said: FromCaller): Record<string, string> {
  switch (said.came) {
    case 'keys':
      return { Digits: said.keys };
    case 'speech':
      return { SpeechResult: said.words, Confidence: String(said.confidence) };
    case 'queue':
      return { QueueResult: QUEUE_RESULT[said.result] };
    case 'recording':
      return { RecordingUrl: said.address, RecordingDuration: String(said.lengthS) };
    case 'nothing':
      return { Digits: '' };
    default:
      return said satisfies never;
  }
}

/** Calls through the desk's webhooks: signed forms go in, and what is said comes out of the documents. */
export function webhookLine(
  post: (path: string, form: Readonly<Record<string, string>>) => Promise<RawAnswer>,
  deskNumber: string,
): CallLine {
  const ask = async (path: string, form: Record<string, string>): Promise<string> => {
    const answer = await post(path, { To: deskNumber, CallStatus: 'in-progress', Direction: 'inbound', ...form });
    if (!answer.ok) throw new Error(`the webhook refused a turn of a call: ${answer.status}`);
    return answer.body;
  };
  return {
    async callerTurn({ callId, from, turn, said }) {
      const path = turn === 0 ? VOICE_PATH : `${VOICE_TURN_PATH}?turn=${turn}`;
      return spokenInTwiml(await ask(path, { CallSid: callId, From: from ?? HIDDEN, ...formOf(said) }));
    },
    async callerWaits({ callId, turn, count }) {
      const path = `${VOICE_WAIT_PATH}?turn=${turn}&count=${count}`;
      return spokenInTwiml(await ask(path, { CallSid: callId }));
    },
    async callerGone(callId) {
      await ask(VOICE_STATUS_PATH, { CallSid: callId, CallStatus: 'completed' });
    },
  };
}
