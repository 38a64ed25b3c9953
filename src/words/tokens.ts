/** One word of a text, in its normal form, with where it stands in the text as the guest wrote it. */
export interface Token {
  /** Lower case, without accents, stretched letters pulled together. */
  word: string;
  readonly start: number;
  readonly end: number;
  /** What stands before it: nothing, a pause (comma, dash), or the end of a sentence. */
  readonly before: Before;
  /** True for the later words of one written word ("can't" is `can` and a joined `not`). */
  readonly joined?: true;
}

export const RUNS_ON = 0;
export const PAUSE = 1;
export const FULL_STOP = 2;
export type Before = typeof RUNS_ON | typeof PAUSE | typeof FULL_STOP;

/** Longer texts are heard up to here; ten text parts of a carrier are 1,600 characters. */
export const LONGEST_TEXT = 4000;

// Names that mix letters and digits stay whole; elsewhere digits part from letters ("rm12b", "5ish", "nb07").
const PIECE =
  /\b(?:[sS][pP]|[cC])?[oO]2\b|\p{Extended_Pictographic}|[\p{L}\p{M}]+(?:['’`´][\p{L}\p{M}]+)*|\d+(?:[.,:/-]\d+)*|[½¼¾⅓⅔]|[.!?;\n…¡¿]+|[,:()/–—-]+|[%°#+&@*]/gu;
const SENTENCE_END = /^[.!?;\n…¡¿]/;
const PAUSING = /^[,:()/–—-]/;
const MARKS = /\p{M}+/gu;
const STRETCHED = /(\p{L})\1{2,}/gu;
const ASCII = /^[a-z]*$/;

/** The normal form of one written word. A letter held down ("heeelp") counts twice at most. */
export function normalWord(raw: string): string {
  const lower = raw.toLowerCase();
  const plain = ASCII.test(lower) ? lower : lower.normalize('NFKD').replace(MARKS, '').replace(/[’`´]/g, "'");
  return plain.replace(STRETCHED, '$1$1');
}

/**
 * Cuts a text into tokens. Linear in its length; anything that is neither letter, digit, mark nor emoji is passed over.
 */
export function tokenise(text: string): Token[] {
  const tokens: Token[] = [];
  let before: Before = RUNS_ON;
  const heard = text.length > LONGEST_TEXT ? text.slice(0, LONGEST_TEXT) : text;
  for (const match of heard.matchAll(PIECE)) {
    const raw = match[0];
    if (SENTENCE_END.test(raw)) {
      before = FULL_STOP;
    } else if (PAUSING.test(raw)) {
      if (before === RUNS_ON) before = PAUSE;
    } else {
      tokens.push({ word: normalWord(raw), start: match.index, end: match.index + raw.length, before });
      before = RUNS_ON;
    }
  }
  return tokens;
}
