import { textParts } from './text-parts.ts';

/** What phones and keyboards put in place of plain signs. */
const PLAIN: Readonly<Record<string, string>> = {
  '‘': "'",
  '’': "'",
  '“': '"',
  '”': '"',
  '–': '-',
  '—': '-',
  '…': '...',
  '\u00a0': ' ',
};

const isBasic = (text: string): boolean => textParts(text).alphabet === 'gsm-7';

function plain(character: string): string {
  if (isBasic(character)) return character;
  const replaced = PLAIN[character] ?? character.normalize('NFD').replaceAll(/\p{Mark}/gu, '');
  return isBasic(replaced) ? replaced : '';
}

/**
 * The same words in the basic alphabet of text messages (3GPP TS 23.038), for those who read them in a hurry: accents that
 * it lacks and curly quotes become plain, what it cannot write at all (pictures, other scripts) is left out. One such
 * character would more than halve what a text part holds.
 */
export function inBasicAlphabet(text: string): string {
  return Array.from(text.normalize('NFC'), plain)
    .join('')
    .replaceAll(/[ \t]+/g, ' ');
}
