import { expect, test } from 'vitest';
import { textParts } from '../../src/care/text-parts.ts';

// Source: 3GPP TS 23.038, 6.2.1, the basic table, as Unicode code points in order of the alphabet's codes 0x00 to 0x7F,
// after www.unicode.org/Public/MAPPINGS/ETSI/GSM0338.TXT; 0x09 is the capital C with cedilla as in the standard (the
// Unicode file has the small one), and 0x1B, the escape to the extension, is left out.
const BASIC_TABLE = `
  0040 00A3 0024 00A5 00E8 00E9 00F9 00EC 00F2 00C7 000A 00D8 00F8 000D 00C5 00E5
  0394 005F 03A6 0393 039B 03A9 03A0 03A8 03A3 0398 039E      00C6 00E6 00DF 00C9
  0020 0021 0022 0023 00A4 0025 0026 0027 0028 0029 002A 002B 002C 002D 002E 002F
  0030 0031 0032 0033 0034 0035 0036 0037 0038 0039 003A 003B 003C 003D 003E 003F
  00A1 0041 0042 0043 0044 0045 0046 0047 0048 0049 004A 004B 004C 004D 004E 004F
  0050 0051 0052 0053 0054 0055 0056 0057 0058 0059 005A 00C4 00D6 00D1 00DC 00A7
  00BF 0061 0062 0063 0064 0065 0066 0067 0068 0069 006A 006B 006C 006D 006E 006F
  0070 0071 0072 0073 0074 0075 0076 0077 0078 0079 007A 00E4 00F6 00F1 00FC 00E0`;

// Source: 3GPP TS 23.038, 6.2.1.1, the extension table: form feed ^ { } \ [ ~ ] | and the euro.
const EXTENSION_TABLE = '000C 005E 007B 007D 005C 005B 007E 005D 007C 20AC';

const charactersOf = (table: string): string[] =>
  table
    .trim()
    .split(/\s+/)
    .map((hex) => String.fromCodePoint(Number.parseInt(hex, 16)));

test('each of the 127 characters of the basic table is one septet', () => {
  const characters = charactersOf(BASIC_TABLE);
  expect(new Set(characters).size).toBe(127);
  for (const character of characters) {
    expect(textParts(character), character).toEqual({ alphabet: 'gsm-7', units: 1, parts: 1 });
  }
});

test('each character of the extension is two septets', () => {
  for (const character of charactersOf(EXTENSION_TABLE)) {
    expect(textParts(character), character).toEqual({ alphabet: 'gsm-7', units: 2, parts: 1 });
  }
});

test('no other character below U+2100 is in the alphabet', () => {
  const inside = new Set([...charactersOf(BASIC_TABLE), ...charactersOf(EXTENSION_TABLE)]);
  const counted = Array.from({ length: 0x2100 }, (_, code) => String.fromCodePoint(code)).filter(
    (character) => textParts(character).alphabet === 'gsm-7',
  );
  expect(new Set(counted)).toEqual(inside);
});

// Source: 3GPP TS 23.040, 9.2.3.24: joined parts give 6 octets to their header: (1120 - 48) / 7 = 153 septets and
// (1120 - 48) / 16 = 67 units, against 160 and 70 alone.
test.for([
  ['a', 0, 'gsm-7', 1],
  ['a', 160, 'gsm-7', 1],
  ['a', 161, 'gsm-7', 2],
  ['a', 306, 'gsm-7', 2],
  ['a', 307, 'gsm-7', 3],
  ['a', 459, 'gsm-7', 3],
  ['a', 460, 'gsm-7', 4],
  ['á', 70, 'ucs-2', 1],
  ['á', 71, 'ucs-2', 2],
  ['á', 134, 'ucs-2', 2],
  ['á', 135, 'ucs-2', 3],
] as const)('"%s" times %i is %s in %i parts', ([character, times, alphabet, parts]) => {
  expect(textParts(character.repeat(times))).toEqual({ alphabet, units: times, parts });
});

// An escape and what it escapes, or the two halves of an emoji, stay in one part: 152 or 66 units fit, not 153 or 67.
test('no character is cut between two parts', () => {
  expect(textParts('€'.repeat(80))).toEqual({ alphabet: 'gsm-7', units: 160, parts: 1 });
  expect(textParts('€'.repeat(153))).toEqual({ alphabet: 'gsm-7', units: 306, parts: 3 });
  expect(textParts('😮'.repeat(35))).toEqual({ alphabet: 'ucs-2', units: 70, parts: 1 });
  expect(textParts('😮'.repeat(67))).toEqual({ alphabet: 'ucs-2', units: 134, parts: 3 });
});

// Source: the basic table above; the letters of Spanish that are in it, and those that are not.
test('Spanish: ñ ¿ ¡ é ü are in the alphabet, á í ó ú are not', () => {
  expect(textParts('¿Qué oye? ¡Señal! pingüino Ñ É Ü').alphabet).toBe('gsm-7');
  for (const letter of 'áíóúÁÍÓÚ') expect(textParts(`Apague el equipo${letter}`).alphabet, letter).toBe('ucs-2');
});

test('a curly quote, a long dash or an emoji moves the whole text to UCS-2', () => {
  for (const odd of ['’', '—', '…', '😮']) expect(textParts(`${'a'.repeat(80)}${odd}`).parts, odd).toBe(2);
});
