import { distance } from 'fastest-levenshtein';
import { hashOf } from './hash.ts';
import { firstAtLeast } from './sorted.ts';

/** The nearest known word, or the word itself when none is near enough. */
export type Spell = (word: string) => string;

/** Shorter words are never changed: too many of them are one letter apart ("lip", "dip", "hip"). */
const SHORTEST = 4;
/** From this length two wrong letters are forgiven. */
const LONG = 8;

/**
 * Known words filed under themselves and under themselves less one letter, so that a misspelt word meets them in a few
 * look-ups, however many there are. Filed by the hash of what is left: two that share one only cost a comparison.
 */
export interface SpellingIndex {
  /** most wanted first: of two equally near, the earlier wins */
  readonly words: readonly string[];
  /** rising; `indices[n]` is the place in `words` of a word filed under `hashes[n]` */
  readonly hashes: Uint32Array;
  readonly indices: Uint32Array;
}

/** Files words to spell toward, most wanted first. */
export function indexForSpelling(targets: Iterable<string>): SpellingIndex {
  const words = [...targets].filter((word) => word.length >= SHORTEST);
  const filed = words.flatMap((word, index) => [...keysOf(word)].map((key) => ({ hash: filedUnder(key), index })));
  filed.sort((one, other) => one.hash - other.hash || one.index - other.index);
  return {
    words,
    hashes: Uint32Array.from(filed, ({ hash }) => hash),
    indices: Uint32Array.from(filed, ({ index }) => index),
  };
}

/** Spelling toward the words of an index. */
export function spellToward({ words, hashes, indices }: SpellingIndex): Spell {
  return (word) => {
    if (word.length < SHORTEST || word.length > 24) return word;
    let best = word;
    let bestCost = Infinity;
    for (const key of keysOf(word)) {
      const hash = filedUnder(key);
      for (let row = firstAtLeast(hashes, hash, 0, hashes.length); hashes[row] === hash; row += 1) {
        const index = indices[row] ?? 0;
        const target = words[index] ?? '';
        const cost = costOf(word, target) + index / words.length / 4;
        if (cost < bestCost) {
          best = target;
          bestCost = cost;
        }
      }
    }
    return best;
  };
}

const filedUnder = (key: string): number => hashOf(key) >>> 0;

/** The word, and the word less each of its letters. */
function keysOf(word: string): Set<string> {
  const keys = new Set([word]);
  for (let at = 0; at < word.length; at += 1) keys.add(word.slice(0, at) + word.slice(at + 1));
  return keys;
}

/** How far apart two words are; Infinity when too far. Two letters swapped count as one slip, a wrong first letter as more. */
function costOf(word: string, target: string): number {
  const apart = isSwap(word, target) ? 1 : distance(word, target);
  const most = Math.min(word.length, target.length) >= LONG ? 2 : 1;
  if (apart > most) return Infinity;
  // Slips at a word's first letter are rare; most such neighbours are other words ("cheezy" is not "wheezy").
  if (word[0] !== target[0] && !isSwap(word, target)) return Infinity;
  return apart + (word.length < 5 && apart > 0 ? 0.2 : 0);
}

function isSwap(word: string, target: string): boolean {
  if (word.length !== target.length) return false;
  let at = 0;
  while (at < word.length && word[at] === target[at]) at += 1;
  return word[at] === target[at + 1] && word[at + 1] === target[at] && word.slice(at + 2) === target.slice(at + 2);
}
