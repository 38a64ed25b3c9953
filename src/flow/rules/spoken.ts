import { LANGUAGES } from '../../words/heard.ts';
import type { Language } from '../../words/heard.ts';
import { areKnown, needsOf } from '../needs.ts';
import { LONGEST } from '../profiles.ts';
import { answersByKey, inPrompts, isAsked, speakPhrase, speakStep } from '../speak.ts';
import type { Prompt } from '../speak.ts';
import { unspeakableIn } from '../speakable.ts';
import { LONGEST_PROMPT_S, secondsToSay } from '../speech-time.ts';
import type { ReadFlowBook } from '../placed-book.ts';
import type { Step } from '../document.ts';
import { namesBreath, pausesOxygen } from './forbidden.ts';
import type { Finding, WordingRule } from './finding.ts';

/** The prompts in which a step is said, with the longest values that the records allow. */
function promptsOf(step: Step, lang: Language, { book }: ReadFlowBook): readonly Prompt[] {
  const { sentences, offer } = speakStep(step, lang, LONGEST, book, book.voice);
  const tail = isAsked(step) ? speakPhrase(book.voice, 'next-or-text', lang, LONGEST, book) : '';
  return inPrompts([], sentences, offer === '' ? [] : [offer], tail, lang);
}

/** The first prompt that takes oxygen away before anything was said of what to do when breathless. */
function pausesUnsaid(prompts: readonly Prompt[], lang: Language): boolean {
  const first = prompts.findIndex(({ sentences }) => pausesOxygen(sentences.join(' '), lang));
  return first !== -1 && !prompts.slice(0, first + 1).some(({ sentences }) => namesBreath(sentences.join(' '), lang));
}

/** What a step sounds like: nothing that cannot be said, no prompt too long, and no pause of oxygen without a warning. */
export const stepsCanBeSaid: WordingRule = (read, flows) =>
  [...flows.steps].flatMap(([where, step]): Finding[] =>
    LANGUAGES.flatMap((lang) => {
      if (step.says === 'emergency' || !areKnown(needsOf(step), LONGEST)) return [];
      const finding = (message: string): Finding => ({
        rule: 'spoken',
        where,
        message: `${lang}: ${message}`,
        path: [],
      });
      const prompts = promptsOf(step, lang, read);
      const words = prompts.flatMap(({ sentences }) => sentences);
      const sign = unspeakableIn(words.join(' '), lang);
      const tail = speakPhrase(read.book.voice, 'next-or-text', lang, LONGEST, read.book);
      const long = prompts.filter(({ sentences, goesOnBy }, index) => {
        const said = goesOnBy === 'word' && index < prompts.length - 1 ? [...sentences, tail] : sentences;
        return secondsToSay(said.join(' '), lang) > LONGEST_PROMPT_S;
      });
      return [
        ...(sign === null ? [] : [finding(`"${sign}" cannot be said; give the step a "spoken" wording`)]),
        ...long.map(({ sentences }) => finding(`a prompt longer than ${LONGEST_PROMPT_S} s: "${sentences.join(' ')}"`)),
        ...(step['pauses-oxygen'] === true && pausesUnsaid(prompts, lang)
          ? [finding('what to do when short of breath is said after the prompt that takes the oxygen away')]
          : []),
        ...(answersByKey(step).length > 7
          ? [finding('more than 7 answers: keys 8, 9 and 0 have meanings of their own')]
          : []),
      ];
    }),
  );

/** The sentences of a call besides the steps. */
export const callsCanBeSaid: WordingRule = ({ book }) =>
  LANGUAGES.flatMap((lang) => {
    const all = Object.entries({ ...book.voice.says, ...book.voice.answers });
    return all.flatMap(([name, wording]): Finding[] => {
      // Letters of a placeholder stand for about as many of its value.
      const words = wording[lang].replaceAll(/[{}]/g, '');
      const sign = unspeakableIn(words, lang);
      const finding = (message: string): Finding => ({
        rule: 'spoken',
        where: `voice.yaml, ${name}`,
        message: `${lang}: ${message}`,
        path: [],
      });
      return [
        ...(sign === null || name === 'cut-off' ? [] : [finding(`"${sign}" cannot be said`)]),
        ...(secondsToSay(words, lang) <= LONGEST_PROMPT_S ? [] : [finding(`longer than ${LONGEST_PROMPT_S} s`)]),
      ];
    });
  });
