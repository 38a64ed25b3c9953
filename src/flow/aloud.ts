/** Digits one by one, with a breath between groups, as a voice should say a number that someone writes down. */
const digitByDigit = (number: string): string =>
  number
    .split(/[^\d]+/)
    .filter((group) => group !== '')
    .map((group) => group.split('').join(' '))
    .join(', ');

const PHONE = /\+?(?:1[\s.-])?\(?\d{3}\)?[\s.-]?\d{3}[\s.-]?\d{4}\b/g;
/** "911", and numbers of rooms and houses, which "two hundred four" would make hard to find on a door. */
const SHORT_NUMBER = /(?<![\d.])\d{3,5}\b(?!\.\d)/g;

/** A text as a voice should read it: phone numbers and room numbers digit by digit, abbreviations in full. */
export function aloud(text: string): string {
  return text.replaceAll(PHONE, digitByDigit).replaceAll(SHORT_NUMBER, digitByDigit).replaceAll('"', '');
}
