import type { Reading } from '../reading.ts';

/** Buckets that features fall into; a power of two. */
export const BUCKETS = 1 << 16;

const SET_OF_INTEREST = /^(?!filler|so$|be$|denial)/;
const SHORTEST_PIECE = 3;
const LONGEST_PIECE = 5;

/**
 * What the second reader looks at, as buckets: stems alone and in pairs, pieces of words (for slips no spelling mends),
 * and the named sets of the lexicon, so that "grandma" speaks for "my great-aunt".
 */
export function featuresOf(reading: Reading): Uint32Array {
  const buckets = new Set<number>();
  const { tokens, lexicon } = reading;
  let before = '^';
  let beforeThat = '^';
  for (const token of tokens) {
    const stem = /^\d/.test(token.word) ? '#' : lexicon.stem(token.word);
    buckets.add(bucketOf(`w ${stem}`));
    buckets.add(bucketOf(`p ${before} ${stem}`));
    buckets.add(bucketOf(`s ${beforeThat} ${stem}`));
    beforeThat = before;
    before = stem;
    if (token.joined !== true) addPieces(token.word, buckets);
  }
  buckets.add(bucketOf(`p ${before} $`));
  const sets = reading.found.filter((one) => one.section === 'words' && SET_OF_INTEREST.test(one.name));
  for (const one of sets) {
    buckets.add(bucketOf(`n ${one.name}`));
    const next = tokens[one.end];
    if (next !== undefined) buckets.add(bucketOf(`n ${one.name} ${lexicon.stem(next.word)}`));
    for (const other of sets) {
      if (other.start >= one.end && other.start <= one.end + 4) buckets.add(bucketOf(`n ${one.name} ${other.name}`));
    }
  }
  for (const one of reading.found) {
    if (one.section === 'topics' || one.section === 'context') buckets.add(bucketOf(`f ${one.section} ${one.name}`));
  }
  return Uint32Array.from(buckets);
}

function addPieces(word: string, buckets: Set<number>): void {
  const padded = `<${word}>`;
  for (let size = SHORTEST_PIECE; size <= LONGEST_PIECE; size += 1) {
    for (let at = 0; at + size <= padded.length; at += 1) buckets.add(bucketOf(`c ${padded.slice(at, at + size)}`));
  }
}

/** FNV-1a, 32 bit, folded. */
function bucketOf(feature: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < feature.length; at += 1) {
    hash ^= feature.charCodeAt(at);
    hash = Math.imul(hash, 0x01000193);
  }
  return ((hash >>> 16) ^ hash) & (BUCKETS - 1);
}
