import { expect, test } from 'vitest';
import { perspicuity, schoolGrade } from '../../src/flow/rules/reading.ts';
import { spanishSyllables } from '../../src/flow/spanish-syllables.ts';

/** A text of so many sentences of one word repeated. */
function text(word: string, words: number, sentences: number): string {
  return Array.from({ length: sentences }, (_, index) => {
    const count = Math.floor((words * (index + 1)) / sentences) - Math.floor((words * index) / sentences);
    return `${Array.from({ length: count }, () => word).join(' ')}.`;
  }).join(' ');
}

// Lowest possible grade, one word of one syllable a sentence: -3.4 (holmengnote.blogspot.com, 2009, read).
test('the lowest school grade there is comes out as published', () => {
  expect(schoolGrade('Go. Stop. Run. Look.')).toBeCloseTo(-3.4, 2);
});

// 0.39 W/S + 11.8 Syl/W - 15.59 (VA measurement page on the UNT web archive, read); values computed from it.
test.each([
  { words: 100, sentences: 10, grade: 3.9 + 11.8 - 15.59 },
  { words: 100, sentences: 5, grade: 7.8 + 11.8 - 15.59 },
  { words: 6, sentences: 1, grade: 2.34 + 11.8 - 15.59 },
])('$words words of one syllable in $sentences sentences have grade $grade', ({ words, sentences, grade }) => {
  expect(schoolGrade(text('cat', words, sentences))).toBeCloseTo(grade, 2);
});

// Szigriszt-Pazos 1993: 206.835 - 62.3 Syl/W - W/S (legible.es, read). 100 words, 8 sentences, 200 syllables: 69.74.
test('a Spanish text of two syllables a word has the perspicuity of the worked figure', () => {
  expect(perspicuity(text('papa', 100, 8))).toBeCloseTo(69.735, 2);
});

// Diphthong and hiatus after the Academy's orthography (RAE 2010), from memory.
test.each([
  ['bien', 1],
  ['día', 2],
  ['leer', 2],
  ['ciudad', 2],
  ['muy', 1],
  ['aparato', 4],
  ['oxígeno', 4],
  ['enchúfelo', 4],
  ['guitarra', 3],
  ['pingüino', 3],
  ['queso', 2],
  ['aéreo', 4],
])('%s has %i syllables', (word, syllables) => {
  expect(spanishSyllables(word)).toBe(syllables);
});
