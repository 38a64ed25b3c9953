import MessagingResponse from 'twilio/lib/twiml/MessagingResponse.js';
import VoiceResponse from 'twilio/lib/twiml/VoiceResponse.js';
import { nationalForm } from './phone.ts';

export interface FallbackFacts {
  readonly outfitName: string;
  /** "911" */
  readonly emergencyNumber: string;
  /** A person's number that guests may ring themselves, E.164. */
  readonly directPhone: string;
}

/**
 * The answers to host on somebody else's server, as the carrier's fallback there: the same to every guest, since a desk
 * that is down knows nothing. Both say the emergency number first and a person's number after it. One is for texts, one
 * for calls.
 */
export function staticFallback(facts: FallbackFacts): { text: string; voice: string } {
  const words =
    `${facts.outfitName}: our night desk is down. If anyone is in danger or short of breath, call ` +
    `${facts.emergencyNumber} now. For anything else tonight, call ${nationalForm(facts.directPhone)}.`;
  const text = new MessagingResponse();
  text.message(words);
  const voice = new VoiceResponse();
  const spoken =
    `This is ${facts.outfitName}. Our night desk is down. If anyone is in danger or short of breath, hang up and call ` +
    `${facts.emergencyNumber.split('').join(' ')} now. Otherwise stay on the line and we will try to reach a person.`;
  voice.say(spoken);
  voice.dial(facts.directPhone);
  voice.say(`Nobody answered. If anyone is in danger, call ${facts.emergencyNumber.split('').join(' ')} now.`);
  return { text: text.toString(), voice: voice.toString() };
}
