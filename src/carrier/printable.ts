/**
 * A text without what neither TwiML (XML 1.0 refuses control characters) nor Postgres (refuses NUL) can carry: control
 * characters other than tab and line ends, the two non-characters of XML, and halves of surrogate pairs.
 */
export function printable(text: string): string {
  return text.toWellFormed().replaceAll(/(?![\t\n\r])\p{Cc}|[\ufffe\uffff]/gu, '');
}
