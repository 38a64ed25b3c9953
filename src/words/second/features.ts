import { isFigurative, standingOf } from '../context.ts';
import { hashOf, hashOn } from '../hash.ts';
import type { Found, Reading } from '../reading.ts';
import { isOfTheUnit } from '../subject.ts';
import { FULL_STOP } from '../tokens.ts';

/** Buckets that features fall into; a power of two. */
export const BUCKETS = 1 << 17;

const SET_OF_INTEREST = /^(?!filler|so$|be$|denial)/;
const SHORTEST_PIECE = 3;
const LONGEST_PIECE = 5;

/** Part of a text: tokens `start` up to, not including, `end`. */
export interface Piece {
  readonly start: number;
  readonly end: number;
}

/** Sentences with fewer words are read with the whole only. */
const FEWEST_WORDS = 3;

/** The whole text and, where it has several, its sentences: one clause of danger in much chat must not be drowned. */
export function piecesOf(reading: Reading): Piece[] {
  const { length } = reading.tokens;
  const pieces: Piece[] = [{ start: 0, end: length }];
  let start = 0;
  for (let at = 1; at <= length; at += 1) {
    if (at < length && reading.tokens[at]?.before !== FULL_STOP) continue;
    if (at - start >= FEWEST_WORDS && at - start < length) pieces.push({ start, end: at });
    start = at;
  }
  return pieces;
}

/** Features of whole texts: danger and topic are read from the same ones. */
const known = new WeakMap<Reading, Uint32Array>();

/** The features of a whole text, made once for a reading. */
export function wholeFeaturesOf(reading: Reading): Uint32Array {
  const made = known.get(reading) ?? featuresOf(reading);
  known.set(reading, made);
  return made;
}

/**
 * What the second reader looks at, as buckets: stems alone and in pairs, pieces of words (for slips no spelling mends),
 * and the named sets of the lexicon, so that "grandma" speaks for "my great-aunt".
 */
export function featuresOf(reading: Reading, piece: Piece = { start: 0, end: reading.tokens.length }): Uint32Array {
  const buckets = new Set<number>();
  const tokens = reading.tokens.slice(piece.start, piece.end);
  const within = reading.found.filter((one) => one.start >= piece.start && one.end <= piece.end);
  let before = '^';
  let beforeThat = '^';
  for (const token of tokens) {
    const stem = /^\d/.test(token.word) ? '#' : token.stem;
    buckets.add(bucketOf(`w ${stem}`));
    buckets.add(bucketOf(`p ${before} ${stem}`));
    buckets.add(bucketOf(`s ${beforeThat} ${stem}`));
    beforeThat = before;
    before = stem;
    if (token.joined !== true) addPieces(token.word, buckets);
  }
  buckets.add(bucketOf(`p ${before} $`));
  const sets = within.filter((one) => one.section === 'words' && SET_OF_INTEREST.test(one.name));
  for (const one of sets) {
    buckets.add(bucketOf(`n ${one.name}`));
    const next = tokens[one.end - piece.start];
    if (next !== undefined) buckets.add(bucketOf(`n ${one.name} ${next.stem}`));
    for (const other of sets) {
      if (other.start >= one.end && other.start <= one.end + 4) buckets.add(bucketOf(`n ${one.name} ${other.name}`));
    }
  }
  for (const one of within) {
    if (one.section === 'signs') addSign(one, reading, buckets);
    if (one.section === 'topics' || one.section === 'context') buckets.add(bucketOf(`f ${one.section} ${one.name}`));
  }
  return Uint32Array.from(buckets);
}

/** A danger phrase of the lexicon, with what stands around it: the reader learns how far to trust each kind. */
function addSign(find: Found, reading: Reading, buckets: Set<number>): void {
  const { denied, distant, mild, over } = standingOf(find, reading);
  const unit = isOfTheUnit(find, reading);
  const figurative = isFigurative(find, reading);
  const marks = { denied, distant, mild, over, unit, figurative };
  const stand = Object.entries(marks).flatMap(([mark, holds]) => (holds ? [mark] : []));
  buckets.add(bucketOf(`g ${find.detail} ${stand.join(' ')}`));
  buckets.add(bucketOf(`g ${find.name} ${find.detail} ${stand.join(' ')}`));
  buckets.add(bucketOf(`g ${find.name}`));
}

function addPieces(word: string, buckets: Set<number>): void {
  const padded = `<${word}>`;
  for (let at = 0; at + SHORTEST_PIECE <= padded.length; at += 1) {
    // One pass over the letters: each piece goes on from the hash of the shorter one.
    let hash = PIECE_HASH;
    for (let size = 1; size <= LONGEST_PIECE && at + size <= padded.length; size += 1) {
      hash = hashOn(hash, padded.charCodeAt(at + size - 1));
      if (size >= SHORTEST_PIECE) buckets.add(folded(hash));
    }
  }
}

const folded = (hash: number): number => ((hash >>> 16) ^ hash) & (BUCKETS - 1);
const bucketOf = (feature: string): number => folded(hashOf(feature));
const PIECE_HASH = hashOf('c ');
