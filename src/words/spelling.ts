import { distance } from 'fastest-levenshtein';

/** The nearest known word, or the word itself when none is near enough. */
export type Spell = (word: string) => string;

/** Shorter words are never changed: too many of them are one letter apart ("lip", "dip", "hip"). */
const SHORTEST = 4;
/** From this length two wrong letters are forgiven. */
const LONG = 8;

/**
 * Spelling toward known words: every target is filed under itself and under itself less one letter, so that a misspelt
 * word meets its targets in a few look-ups, however many targets there are.
 *
 * @param targets  most wanted first: of two equally near, the earlier wins
 */
export function spellToward(targets: Iterable<string>): Spell {
  const list = [...targets].filter((word) => word.length >= SHORTEST);
  let filed: Map<string, number[]> | undefined;

  // Filed at the first misspelt word, not at start: most texts need it, the first answer need not wait for all of it.
  function file(): Map<string, number[]> {
    const made = new Map<string, number[]>();
    list.forEach((word, index) => {
      for (const key of keysOf(word)) {
        const known = made.get(key);
        if (known === undefined) made.set(key, [index]);
        else known.push(index);
      }
    });
    return made;
  }

  return (word) => {
    if (word.length < SHORTEST || word.length > 24) return word;
    filed ??= file();
    let best = word;
    let bestCost = Infinity;
    for (const key of keysOf(word)) {
      for (const index of filed.get(key) ?? []) {
        const target = list[index] ?? '';
        const cost = costOf(word, target) + index / list.length / 4;
        if (cost < bestCost) {
          best = target;
          bestCost = cost;
        }
      }
    }
    return best;
  };
}

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
