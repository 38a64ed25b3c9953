import { parsePhoneNumberFromString } from 'libphonenumber-js/min';

const E164 = /^\+[1-9]\d{7,14}$/;

/**
 * The number in E.164 ("+19705550123"), from E.164 or from national US writing ("(970) 555-0123"); null when it is no
 * phone number or has an extension. Asks for the right length only, not for a number in use: numbers are put into use
 * faster than any table learns of it.
 */
export function phoneOf(written: string): string | null {
  const number = parsePhoneNumberFromString(written.trim(), { defaultCountry: 'US', extract: false });
  if (number === undefined || number.ext !== undefined) return null;
  // Abroad, plans change before the table does (Mexico's +52 1): what the carrier itself wrote in E.164 counts.
  const writtenAbroad = number.countryCallingCode !== '1' && E164.test(written);
  return number.isPossible() || writtenAbroad ? number.number : null;
}
