import MessagingResponse from 'twilio/lib/twiml/MessagingResponse.js';
import VoiceResponse from 'twilio/lib/twiml/VoiceResponse.js';
import { VOICES } from './call-twiml.ts';
import { nationalForm } from './phone.ts';

export interface FallbackFacts {
  readonly outfitName: string;
  /** "911" */
  readonly emergencyNumber: string;
  /** A person's number that guests may ring themselves, E.164. */
  readonly directPhone: string;
}

/** Seconds the person's phone rings. */
const RING_FOR_S = 40;

const nationalDigits = (phone: string): string => nationalForm(phone).replaceAll(/\D/g, '').split('').join(' ');

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
  return { text: text.toString(), voice: staticVoice(facts) };
}

/** The document for a call that nothing of the desk can answer: danger first, then a person's phone, in both languages. */
export function staticVoice({ outfitName, emergencyNumber, directPhone }: FallbackFacts): string {
  const number = emergencyNumber.split('').join(' ');
  const voice = new VoiceResponse();
  const say = (lang: 'en' | 'es', words: string): void => {
    voice.say({ language: VOICES[lang] }, words);
  };
  say('en', `This is ${outfitName}. If anyone is in danger or short of breath, hang up and call ${number} now.`);
  say('es', `Si alguien está en peligro o le falta el aire, cuelgue y llame ya al ${number}.`);
  say('en', 'Our night desk has a fault. Stay on the line, and we try to reach a person.');
  say('es', 'La mesa nocturna tiene una falla. No cuelgue, buscamos a una persona.');
  voice.dial({ timeout: RING_FOR_S }, directPhone);
  say(
    'en',
    `If you have reached nobody, call ${nationalDigits(directPhone)}. If anyone is in danger, call ${number} now.`,
  );
  say('es', `Si no habló con nadie, llame al ${nationalDigits(directPhone)}. Si hay peligro, llame ya al ${number}.`);
  voice.hangup();
  return voice.toString();
}
