import VoiceResponse from 'twilio/lib/twiml/VoiceResponse.js';
import type { Spoken } from '../desk/carrier.ts';
import { printable } from './printable.ts';

/** Paths that the carrier asks for the words of a call, and reports its end to; the query says which call and turn. */
export const TURN_PATH = '/carrier/call/turn';
export const CALL_STATUS_PATH = '/carrier/call/status';

/** Seconds in which a key may be pressed after the last word. */
const KEY_WITHIN_S = 8;
/** Seconds to wait in an empty queue for a caller who has just hung up. */
const JOIN_WITHIN_S = 5;
export const VOICES: Readonly<Record<Spoken['lang'], 'en-US' | 'es-MX'>> = { en: 'en-US', es: 'es-MX' };

/** The address of a turn. Its number is signed with it, so that the same turn again is known to be the same. */
export function turnAddress(publicUrl: string, call: number, turn: number): string {
  return `${publicUrl}${TURN_PATH}?call=${call}&turn=${turn}`;
}

/** What is played may be long: nobody listens to more of it than this many messages. */
const MOST_PLAYED = 3;

/** Puts a phone through to whoever waits in a queue, for as long as both want; then the action tells how it was. */
export function joinQueue(response: VoiceResponse, queue: string, action: string): void {
  response.dial({ action, method: 'POST', timeout: JOIN_WITHIN_S }).queue(queue);
}

/** What is said in a turn, as TwiML. With a next turn one key is waited for, also while the words are still being said. */
export function spokenTwiml(spoken: Spoken, call: number, publicUrl: string): string {
  const response = new VoiceResponse();
  const { nextTurn, lang, joins, plays = [] } = spoken;
  const speaker =
    nextTurn === null || joins !== undefined
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
  const sentences = spoken.sentences.map(printable);
  for (const [index, sentence] of sentences.entries()) {
    if (index === sentences.length - 1) for (const address of plays.slice(-MOST_PLAYED)) speaker.play(address);
    speaker.say({ language: VOICES[lang] }, sentence);
  }
  if (nextTurn === null) response.hangup();
  else if (joins !== undefined) joinQueue(response, joins, turnAddress(publicUrl, call, nextTurn));
  return response.toString();
}
