import { parsePhoneNumberFromString } from 'libphonenumber-js/min';
import { phoneOf } from '../reading/phone.ts';

const SHORT_CODE = /^\d{3,6}$/;
/** What a network lets a company show in place of a number: up to 11 letters, digits and spaces, a letter among them. */
const SENDER_NAME = /^(?=.*[a-z])[a-z0-9][a-z0-9 ]{0,10}$/i;

/** Who sent a text: a phone; a machine that is not to be answered; or nothing that can be a sender. */
export type Sender =
  | { readonly kind: 'phone'; readonly e164: string }
  | { readonly kind: 'not-to-be-answered' }
  | { readonly kind: 'invalid' };

/** Sorts a form's sender. Short codes and sender names are machines: answering them starts loops between robots. */
export function senderOf(from: string): Sender {
  if (SHORT_CODE.test(from) || SENDER_NAME.test(from)) return { kind: 'not-to-be-answered' };
  const e164 = phoneOf(from);
  return e164 === null ? { kind: 'invalid' } : { kind: 'phone', e164 };
}

/** A number as people at home read it, "(970) 555-0123"; as it came when it cannot be read. */
export function nationalForm(e164: string): string {
  return parsePhoneNumberFromString(e164)?.formatNational() ?? e164;
}

/** A number as a log may show it: its last four digits. */
export function maskedPhone(phone: string): string {
  return `…${phone.slice(-4)}`;
}
