import { fleschKincaid } from 'flesch-kincaid';
import { syllable } from 'syllable';
import type { Language } from '../../words/heard.ts';
import { LANGUAGES } from '../../words/heard.ts';
import type { Wording } from '../document.ts';
import { fillPlaceholders } from '../needs.ts';
import { spanishSyllables } from '../spanish-syllables.ts';
import type { Finding, WordingRule } from './finding.ts';

/** How hard a wording is to read. Guests are tired, unwell and short of oxygen; many read a second language. */

interface Counts {
  readonly sentences: number;
  readonly words: number;
  readonly syllables: number;
}

const WORD = /[\p{L}\p{N}]+(?:['’-][\p{L}\p{N}]+)*/gu;
const SENTENCE_END = /[.?!]+(?=\s|$)/g;

function count(text: string, syllablesOf: (word: string) => number): Counts {
  const words = text.match(WORD) ?? [];
  return {
    sentences: Math.max(1, text.match(SENTENCE_END)?.length ?? 0),
    words: words.length,
    syllables: words.reduce((sum, word) => sum + Math.max(1, syllablesOf(word)), 0),
  };
}

/** United States school grade by Flesch and Kincaid (1975), through the flesch-kincaid package. */
export function schoolGrade(text: string): number {
  const { sentences, words, syllables } = count(text, syllable);
  return fleschKincaid({ sentence: sentences, word: words, syllable: syllables });
}

/**
 * Perspicuity by Szigriszt-Pazos (1993): 206.835 - 62.3 S/P - P/F with syllables S, words P and sentences F. 66 to 75 is
 * rather easy, 76 to 85 easy. Source: legible.es, "Perspicuidad de Szigriszt-Pazos". No package of it is kept.
 */
export function perspicuity(text: string): number {
  const { sentences, words, syllables } = count(text, spanishSyllables);
  return 206.835 - 62.3 * (syllables / words) - words / sentences;
}

/** Highest grade of a whole flow in English; one step may be a little harder. */
const HARDEST_FLOW_GRADE = 6;
const HARDEST_STEP_GRADE = 8;
/** Lowest perspicuity of a whole flow in Spanish, and of one step. */
const EASIEST_BOUND_FLOW = 65;
const EASIEST_BOUND_STEP = 55;

/** How a wording falls short, in words; null when it is easy enough. */
function tooHard(text: string, lang: Language, of: 'flow' | 'step'): string | null {
  if (lang === 'en') {
    const grade = schoolGrade(text);
    const most = of === 'flow' ? HARDEST_FLOW_GRADE : HARDEST_STEP_GRADE;
    return grade <= most ? null : `school grade ${grade.toFixed(1)}, at most ${most}`;
  }
  const ease = perspicuity(text);
  const least = of === 'flow' ? EASIEST_BOUND_FLOW : EASIEST_BOUND_STEP;
  return ease > least ? null : `perspicuity ${ease.toFixed(0)}, above ${least} is wanted`;
}

/** A wording as it is read: placeholders stand for a short word or number. */
function readAloud(wording: Wording, lang: Language): string {
  return fillPlaceholders(wording[lang], () => '2');
}

/** Each flow over its whole wording, and each step, is easy to read in each language. */
export const easyToRead: WordingRule = (read) =>
  read.flows.flatMap(({ value: flow }): Finding[] =>
    LANGUAGES.flatMap((lang) => {
      const steps = Object.entries(flow.steps).map(([name, { tell, ask }]) => {
        const words = [tell, ask].flatMap((wording) => (wording === undefined ? [] : [readAloud(wording, lang)]));
        return { where: `${flow.flow}.${name}`, text: words.join(' ') };
      });
      const spoken = steps.filter(({ text }) => text !== '');
      const whole = tooHard(spoken.map(({ text }) => text).join(' '), lang, 'flow');
      const hard = spoken.flatMap(({ where, text }) => {
        const why = tooHard(text, lang, 'step');
        return why === null ? [] : [{ rule: 'reading', where, message: `${lang}: ${why}`, path: [] }];
      });
      return whole === null
        ? hard
        : [{ rule: 'reading', where: flow.flow, message: `${lang}: the whole flow: ${whole}`, path: [] }, ...hard];
    }),
  );
