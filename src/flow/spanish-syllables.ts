const STRONG = 'aeoáéó';
const ACCENTED_WEAK = 'íú';
const WEAK = 'iuü';

/**
 * The number of syllables of a Spanish word. Vowels make the syllables: two strong ones part ("le-er"), a weak one joins
 * its neighbour ("bien") unless it carries the accent ("dí-a"), and two weak ones join ("muy", "ciu-dad"). The u of que,
 * qui, gue and gui is silent. Rules of the Academy's orthography (RAE 2010, diphthong and hiatus), from memory.
 */
export function spanishSyllables(word: string): number {
  const letters = word
    .toLowerCase()
    .replace(/qu(?=[eéií])/g, 'q')
    .replace(/gu(?=[eéií])/g, 'g')
    .replace(/y(?![aeiouáéíóú])/g, 'i')
    .replace(/h/g, '');
  let count = 0;
  let before: string | null = null;
  for (const letter of letters) {
    const vowel = STRONG.includes(letter) || WEAK.includes(letter) || ACCENTED_WEAK.includes(letter);
    if (vowel && !joins(before, letter)) count += 1;
    before = vowel ? letter : null;
  }
  return Math.max(1, count);
}

function joins(before: string | null, letter: string): boolean {
  if (before === null) return false;
  if (ACCENTED_WEAK.includes(before) || ACCENTED_WEAK.includes(letter)) return false;
  return !(STRONG.includes(before) && STRONG.includes(letter));
}
