/**
 * How many parts a text takes on the phone network, as 3GPP TS 23.038 (alphabets) and TS 23.040 (joined parts) have it:
 * 160 septets alone or 153 joined in the GSM 7-bit alphabet, 70 or 67 UTF-16 units otherwise. US toll-free numbers may
 * join at 152 and 66; the desk counts for ordinary numbers.
 */

/** TS 23.038 6.2.1, the basic table by code, without 0x1B (the escape to the extension). */
const BASIC =
  '@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ' +
  ' !"#¤%&\'()*+,-./0123456789:;<=>?' +
  '¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§' +
  '¿abcdefghijklmnopqrstuvwxyzäöñüà';

/** TS 23.038 6.2.1.1, the extension: the escape and one more septet each. */
const EXTENSION = '\f^{}\\[~]|€';

const SEPTETS: ReadonlyMap<string, number> = new Map([
  ...Array.from(BASIC).map((character) => [character, 1] as const),
  ...Array.from(EXTENSION).map((character) => [character, 2] as const),
]);

const ROOM = {
  'gsm-7': { alone: 160, joined: 153 },
  'ucs-2': { alone: 70, joined: 67 },
} as const;

export interface TextParts {
  readonly alphabet: 'gsm-7' | 'ucs-2';
  /** Septets in the 7-bit alphabet, UTF-16 units otherwise. */
  readonly units: number;
  /** At least 1, also for an empty text. */
  readonly parts: number;
}

/** Counts parts filled one after another: an escaped character or a pair of surrogates is never cut in two. */
function partsOf(sizes: readonly number[], joined: number): number {
  let parts = 1;
  let used = 0;
  for (const size of sizes) {
    if (used + size > joined) {
      parts += 1;
      used = 0;
    }
    used += size;
  }
  return parts;
}

/**
 * The parts of a text. One character outside the 7-bit alphabet (á, a curly quote, an emoji) moves the whole text to
 * UCS-2 and more than halves what a part holds.
 */
export function textParts(text: string): TextParts {
  const characters = Array.from(text);
  const septets = characters.map((character) => SEPTETS.get(character));
  const alphabet = septets.every((size) => size !== undefined) ? 'gsm-7' : 'ucs-2';
  const sizes = characters.map((character) =>
    alphabet === 'gsm-7' ? (SEPTETS.get(character) ?? 1) : character.length,
  );
  const units = sizes.reduce((sum, size) => sum + size, 0);
  const room = ROOM[alphabet];
  return { alphabet, units, parts: units <= room.alone ? 1 : partsOf(sizes, room.joined) };
}
