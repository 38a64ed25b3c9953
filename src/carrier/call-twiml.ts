import VoiceResponse from 'twilio/lib/twiml/VoiceResponse.js';
import type { Spoken } from '../desk/carrier.ts';
import { printable } from './printable.ts';

/** Paths that the carrier asks for the words of a call, and reports its end to; the query says which call and turn. */
export const TURN_PATH = '/carrier/call/turn';
export const CALL_STATUS_PATH = '/carrier/call/status';

/** Seconds in which a key may be pressed after the last word. */
const KEY_WITHIN_S = 8;
const VOICES: Readonly<Record<Spoken['lang'], 'en-US' | 'es-MX'>> = { en: 'en-US', es: 'es-MX' };

/** The address of a turn. Its number is signed with it, so that the same turn again is known to be the same. */
export function turnAddress(publicUrl: string, call: number, turn: number): string {
  return `${publicUrl}${TURN_PATH}?call=${call}&turn=${turn}`;
}

/** What is said in a turn, as TwiML. With a next turn one key is waited for, also while the words are still being said. */
export function spokenTwiml(spoken: Spoken, call: number, publicUrl: string): string {
  const response = new VoiceResponse();
  const { nextTurn, lang } = spoken;
  const speaker =
    nextTurn === null
      ? response
      : response.gather({
          input: ['dtmf'],
          numDigits: 1,
          timeout: KEY_WITHIN_S,
          action: turnAddress(publicUrl, call, nextTurn),
          method: 'POST',
          // No key is an answer too: without this the call would simply end.
          actionOnEmptyResult: true,
        });
  for (const sentence of spoken.sentences) speaker.say({ language: VOICES[lang] }, printable(sentence));
  if (nextTurn === null) response.hangup();
  return response.toString();
}
