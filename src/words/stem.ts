import type { Stem } from './grammar.ts';

/** A stem shorter than this says too little: "mar" is the sea and, to a stemmer, also "mareado". */
const SHORTEST_STEM = 4;
const ENDING = /(?:es|s|o|a|os|as)$/;

/** Stems a word with a library's stemmer, but trims only its last letters where the stem would come out too short. */
export function stemWith(stemmer: (word: string) => string): Stem {
  return (word) => {
    if (word.length < SHORTEST_STEM) return word;
    const stem = stemmer(word);
    return stem.length >= SHORTEST_STEM || word.length === SHORTEST_STEM ? stem : word.replace(ENDING, '');
  };
}
