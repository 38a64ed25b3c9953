import type { Reading } from './reading.ts';

/** Letters before the digits of a tag; longer words are words. */
const TAG_LETTERS = /^[a-z]{2,3}$/;

/** A room and a unit's tag, where a text names them. The room is as written, upper case; the tag is `NB-07`. */
export function hearPlace(reading: Reading): { room?: string; tag?: string } {
  const room = hearRoom(reading);
  const tag = hearTag(reading);
  return { ...(room === null ? {} : { room }), ...(tag === null ? {} : { tag }) };
}

function hearRoom(reading: Reading): string | null {
  for (const found of reading.found) {
    if (found.section !== 'place' || found.name === 'tag') continue;
    const number = reading.tokens[found.end];
    // "in 305" is a room, "in 3" may be anything: after a weak word only long numbers are rooms.
    const shape = found.name === 'room' ? /^\d{1,5}$/ : /^\d{3,4}$/;
    if (number === undefined || !shape.test(number.word)) continue;
    const letter = reading.tokens[found.end + 1];
    const tight = letter !== undefined && letter.start === number.end && /^[a-z]$/.test(letter.word);
    return `${number.word}${tight ? letter.word : ''}`.toUpperCase();
  }
  return null;
}

function hearTag(reading: Reading): string | null {
  for (let at = 0; at + 1 < reading.tokens.length; at += 1) {
    const [letters, digits] = [reading.tokens[at], reading.tokens[at + 1]];
    if (letters === undefined || digits === undefined) continue;
    if (!TAG_LETTERS.test(letters.word) || !/^\d{2,4}$/.test(digits.word)) {
      if (letters.word !== 'nb' || !/^\d{1,4}$/.test(digits.word)) continue;
    }
    const written = reading.text.slice(letters.end, digits.start);
    const named = reading.found.some((one) => one.section === 'place' && one.name === 'tag' && one.end === at);
    // "rm 12" and "at 305" are letters before digits too: outside "nb", the dash or the word "tag" makes it one.
    if (letters.word !== 'nb' && !(written === '-' && isUpper(reading, letters)) && !named) continue;
    return `${letters.word.toUpperCase()}-${digits.word.padStart(2, '0')}`;
  }
  return null;
}

function isUpper(reading: Reading, token: { start: number; end: number }): boolean {
  const raw = reading.text.slice(token.start, token.end);
  return raw === raw.toUpperCase();
}
