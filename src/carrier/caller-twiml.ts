import VoiceResponse from 'twilio/lib/twiml/VoiceResponse.js';
import type { AfterWords, Sentence, SpokenToCaller } from '../desk/carrier.ts';
import { VOICES, joinQueue } from './call-twiml.ts';
import { printable } from './printable.ts';

/** Where the carrier brings calls that come in, and what follows in them; the query says which turn. */
export const VOICE_PATH = '/carrier/voice';
export const VOICE_TURN_PATH = '/carrier/voice/turn';
export const VOICE_WAIT_PATH = '/carrier/voice/wait';
export const VOICE_STATUS_PATH = '/carrier/voice/status';
export const VOICE_FALLBACK_PATH = '/carrier/voice/fallback';

/** Seconds of quiet after which someone who was speaking is taken to be done. People who are unwell speak slowly. */
const QUIET_AFTER_SPEECH_S = '2';
/** Longest list and longest entry of hints that the carrier takes, by its documents; from memory. */
const MOST_HINTS = 500;
const LONGEST_HINT = 100;
/** Seconds of quiet after which a recording ends. */
const QUIET_ENDS_RECORDING_S = 6;

/** The address of a turn. Its number is signed with it, so that the same turn again is known to be the same. */
export function voiceTurnAddress(publicUrl: string, turn: number): string {
  return `${publicUrl}${VOICE_TURN_PATH}?turn=${turn}`;
}

function waitAddress(publicUrl: string, turn: number, count: number): string {
  return `${publicUrl}${VOICE_WAIT_PATH}?turn=${turn}&count=${count}`;
}

function sayAll(speaker: Pick<VoiceResponse, 'say'>, sentences: readonly Sentence[]): void {
  for (const { lang, words } of sentences) speaker.say({ language: VOICES[lang] }, printable(words));
}

function listen(
  response: VoiceResponse,
  sentences: readonly Sentence[],
  after: Extract<AfterWords, { do: 'listen' }>,
  publicUrl: string,
): void {
  const gather = response.gather({
    input: ['dtmf', 'speech'],
    language: VOICES[after.lang],
    hints: after.hints
      .slice(0, MOST_HINTS)
      .map((hint) => printable(hint).replaceAll(',', ' ').slice(0, LONGEST_HINT))
      .join(','),
    speechTimeout: QUIET_AFTER_SPEECH_S,
    // What people say when they are in trouble must not come back as asterisks.
    profanityFilter: false,
    bargeIn: true,
    timeout: after.patienceS,
    // With one key the star and the pound key are keys like others; else pound ends the digits.
    ...(after.keys === 'one' ? { numDigits: 1, finishOnKey: '' } : { finishOnKey: '#' }),
    action: voiceTurnAddress(publicUrl, after.turn),
    method: 'POST',
    // Silence is an answer too: without this the call would simply end.
    actionOnEmptyResult: true,
  });
  sayAll(gather, sentences);
}

/** What is said in a turn of a call that came in, as TwiML. */
export function callerTwiml({ sentences, after }: SpokenToCaller, publicUrl: string): string {
  const response = new VoiceResponse();
  if (after.do === 'listen') {
    listen(response, sentences, after, publicUrl);
    return response.toString();
  }
  sayAll(response, sentences);
  switch (after.do) {
    case 'queue':
      response.enqueue(
        {
          waitUrl: waitAddress(publicUrl, after.turn, 0),
          waitUrlMethod: 'POST',
          action: voiceTurnAddress(publicUrl, after.turn),
          method: 'POST',
        },
        after.queue,
      );
      break;
    case 'join':
      joinQueue(response, after.queue, voiceTurnAddress(publicUrl, after.turn));
      break;
    case 'record':
      response.record({
        maxLength: after.longestS,
        timeout: QUIET_ENDS_RECORDING_S,
        finishOnKey: '#',
        playBeep: true,
        action: voiceTurnAddress(publicUrl, after.turn),
        method: 'POST',
      });
      // Where nothing was said after the tone there is no recording, and the carrier goes on here.
      response.redirect({ method: 'POST' }, voiceTurnAddress(publicUrl, after.turn));
      break;
    case 'wait':
      response.pause({ length: after.pauseS });
      response.redirect({ method: 'POST' }, waitAddress(publicUrl, after.turn, after.count));
      break;
    case 'leave-queue':
      response.leave();
      break;
    case 'hang-up':
      response.hangup();
      break;
    default:
      after satisfies never;
  }
  return response.toString();
}
