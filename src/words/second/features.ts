import { isFigurative, standingOf } from '../context.ts';
import { hashOf, hashOn, mixed } from '../hash.ts';
import type { Found, Reading } from '../reading.ts';
import { isOfTheUnit } from '../subject.ts';
import { FULL_STOP } from '../tokens.ts';

/** Buckets that features fall into; a power of two. */
export const BUCKETS = 1 << 19;

/**
 * What the second reader looks at: buckets, each with its share. Each kind of feature speaks with one voice, however
 * much there is of it, so that a text's hundreds of letter groups do not drown its one sign.
 */
export interface Features {
  readonly buckets: Uint32Array;
  readonly shares: Float32Array;
}

/** Sets that only hold phrases together say nothing by themselves. */
const SET_OF_INTEREST = /^(?!filler|so$|be$|denial)/;
const SHORTEST_PIECE = 3;
const LONGEST_PIECE = 5;
/** A set within so many words behind another stands beside it. */
const BESIDE = 4;
/** Of so many different sets each pair is looked at: a text of a thousand words holds them all, and says little so. */
const MOST_SETS_PAIRED = 40;

/** Part of a text: tokens `start` up to, not including, `end`. */
export interface Piece {
  readonly start: number;
  readonly end: number;
}

/** Sentences with fewer words are read with the whole only. */
const FEWEST_WORDS = 3;

/** The sentences of a text that has several: one clause of danger in much chat must not be drowned. */
export function sentencesOf(reading: Reading): Piece[] {
  const { length } = reading.tokens;
  const pieces: Piece[] = [];
  let start = 0;
  for (let at = 1; at <= length; at += 1) {
    if (at < length && reading.tokens[at]?.before !== FULL_STOP) continue;
    if (at - start >= FEWEST_WORDS && at - start < length) pieces.push({ start, end: at });
    start = at;
  }
  return pieces;
}

/** Features of whole texts: danger, topic and answers are read from the same ones. */
const known = new WeakMap<Reading, Features>();

/** The features of a whole text, made once for a reading. */
export function wholeFeaturesOf(reading: Reading): Features {
  const made = known.get(reading) ?? featuresOf(reading);
  known.set(reading, made);
  return made;
}

/** Where the hashes of each kind of feature begin. */
const SEEDS = {
  word: hashOf('word'),
  pair: hashOf('pair'),
  skip: hashOf('skip'),
  set: hashOf('set'),
  beside: hashOf('beside'),
  together: hashOf('together'),
  sign: hashOf('sign'),
  finding: hashOf('finding'),
};

/**
 * The features of a text or a piece of it: stems alone and in pairs, groups of letters (for slips no spelling mends),
 * and what the lexicon found: its sets and families alone, beside words and in pairs, so that "grandma" speaks for
 * "my great-aunt"; its signs with what stands around them, so that the reader learns how far to trust each; its topics.
 */
export function featuresOf(reading: Reading, piece: Piece = { start: 0, end: reading.tokens.length }): Features {
  const found = reading.found.filter((one) => one.start >= piece.start && one.end <= piece.end);
  return voiced([...wordsOf(reading, piece), ...findsOf(found, reading, piece)]);
}

/** Only what does not depend on the language: what one language's texts teach the reader of another. */
export function sharedFeaturesOf(reading: Reading): Features {
  const [alone, , together, signs, findings] = findsOf(reading.found, reading, {
    start: 0,
    end: reading.tokens.length,
  });
  return voiced([alone, together, signs, findings].map((kind) => kind ?? new Uint32Array(0)));
}

function findsOf(found: readonly Found[], reading: Reading, piece: Piece): Uint32Array[] {
  return [...setsOf(found, reading, piece), signsOf(found, reading), findingsOf(found)];
}

function voiced(kinds: readonly Uint32Array[]): Features {
  const size = kinds.reduce((sum, { length }) => sum + length, 0);
  const buckets = new Uint32Array(size);
  const shares = new Float32Array(size);
  let at = 0;
  for (const kind of kinds) {
    buckets.set(kind, at);
    shares.fill(1 / Math.sqrt(kind.length), at, at + kind.length);
    at += kind.length;
  }
  return { buckets, shares };
}

const PIECE_SEED = hashOf('piece ');
const START = hashOf('^');
const END = hashOf('$');
const NUMBER = hashOf('#');

/** Hash of a token's stem; numbers are all one. */
function stemHash(reading: Reading, at: number): number {
  const token = reading.tokens[at];
  return token === undefined || /^\d/.test(token.word) ? NUMBER : hashOf(token.stem);
}

function wordsOf(reading: Reading, { start, end }: Piece): Uint32Array[] {
  const [words, pairs, skips, pieces] = [new Buckets(), new Buckets(), new Buckets(), new Buckets()];
  let [before, beforeThat] = [START, START];
  for (let at = start; at < end; at += 1) {
    const stem = stemHash(reading, at);
    words.add(mixed(SEEDS.word, stem));
    pairs.add(mixed(mixed(SEEDS.pair, before), stem));
    skips.add(mixed(mixed(SEEDS.skip, beforeThat), stem));
    [beforeThat, before] = [before, stem];
    const token = reading.tokens[at];
    if (token !== undefined && token.joined !== true) addPieces(token.word, pieces);
  }
  pairs.add(mixed(mixed(SEEDS.pair, before), END));
  return [words, pairs, skips, pieces].map((one) => one.done());
}

function setsOf(found: readonly Found[], reading: Reading, piece: Piece): Uint32Array[] {
  const [alone, beside, together] = [new Buckets(), new Buckets(), new Buckets()];
  const sets = found.filter((one) => one.section === 'words' && SET_OF_INTEREST.test(one.name));
  const names = sets.map(({ name }) => hashOf(name));
  sets.forEach((one, index) => {
    const name = names[index] ?? 0;
    alone.add(mixed(SEEDS.set, name));
    const besideIt = mixed(SEEDS.beside, name);
    if (one.end < piece.end) beside.add(mixed(besideIt, stemHash(reading, one.end)));
    sets.forEach((other, otherIndex) => {
      const behind = other.start - one.end;
      if (behind >= 0 && behind <= BESIDE) beside.add(mixed(besideIt, names[otherIndex] ?? 0));
    });
  });
  const different = [...new Set(names)].toSorted((a, b) => a - b).slice(0, MOST_SETS_PAIRED);
  different.forEach((one, index) => {
    for (const other of different.slice(index + 1)) together.add(mixed(mixed(SEEDS.together, one), other));
  });
  return [alone, beside, together].map((one) => one.done());
}

function signsOf(found: readonly Found[], reading: Reading): Uint32Array {
  const buckets = new Buckets();
  for (const one of found) {
    if (one.section !== 'signs') continue;
    const stands = hashOf(marksOf(one, reading));
    buckets.add(mixed(mixed(SEEDS.sign, hashOf(one.detail)), stands));
    buckets.add(mixed(mixed(SEEDS.sign, hashOf(`${one.name} ${one.detail}`)), stands));
    buckets.add(mixed(SEEDS.sign, hashOf(one.name)));
  }
  return buckets.done();
}

/** What stands around a sign, in a word. */
function marksOf(find: Found, reading: Reading): string {
  const { denied, distant, mild, over } = standingOf(find, reading);
  const marks = [denied, distant, mild, over, isOfTheUnit(find, reading), isFigurative(find, reading)];
  return marks.map(Number).join('');
}

function findingsOf(found: readonly Found[]): Uint32Array {
  const buckets = new Buckets();
  for (const { section, name } of found) {
    if (section === 'topics' || section === 'context') buckets.add(mixed(SEEDS.finding, hashOf(`${section} ${name}`)));
  }
  return buckets.done();
}

function addPieces(word: string, buckets: Buckets): void {
  const padded = `<${word}>`;
  for (let at = 0; at + SHORTEST_PIECE <= padded.length; at += 1) {
    // One pass over the letters: each piece goes on from the hash of the shorter one.
    let hash = PIECE_SEED;
    for (let size = 1; size <= LONGEST_PIECE && at + size <= padded.length; size += 1) {
      hash = hashOn(hash, padded.charCodeAt(at + size - 1));
      if (size >= SHORTEST_PIECE) buckets.add(hash);
    }
  }
}

/** Buckets of one kind, each once. */
class Buckets {
  readonly #seen = new Set<number>();

  add(hash: number): void {
    this.#seen.add(((hash >>> 15) ^ hash) & (BUCKETS - 1));
  }

  done(): Uint32Array {
    return Uint32Array.from(this.#seen);
  }
}
