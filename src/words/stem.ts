import type { Stem } from './grammar.ts';

/** A stem shorter than this says too little: "mar" is the sea and, to a stemmer, also "mareado". */
const SHORTEST_STEM = 4;
const ENDING = /(?:es|s|o|a|os|as)$/;

/**
 * Stems a word with a library's stemmer, but only trims its last letters where the stem would come out too short.
 *
 * @param shortestWord  shorter words stay as they are: in Spanish "como" and "coma" differ, in English "lips" is "lip"
 */
export function stemWith(stemmer: (word: string) => string, shortestWord: number): Stem {
  return (word) => {
    if (word.length < shortestWord) return word;
    const stem = stemmer(word);
    return stem.length >= SHORTEST_STEM || word.length <= SHORTEST_STEM ? stem : word.replace(ENDING, '');
  };
}
