import { ANSWER_KINDS } from '../words/heard.ts';
import type { Language } from '../words/heard.ts';
import { aloud } from './aloud.ts';
import type { FlowBook } from './book.ts';
import type { Step, Voice, VoicePhrase } from './document.ts';
import type { Facts } from './facts.ts';
import { fill } from './say.ts';
import type { VoiceFacts } from './say.ts';
import { sentencesOf, speakable } from './speakable.ts';
import { LONGEST_PROMPT_S, secondsToSay } from './speech-time.ts';

/** The key for "I do not know", where a question is answered with one key. */
export const UNSURE_KEY = '8';
export const LANGUAGE_KEY = '9';
export const PERSON_KEY = '0';
export const AGAIN_KEY = '*';
export const BACK_KEY = '#';

/** Answers by key in their order, where no choices are offered. */
const KEYS_OF_KIND: Readonly<Record<string, readonly string[]>> = {
  'yes-no': ['yes', 'no'],
  bubbling: ['yes', 'no'],
  'air-at-prongs': ['yes', 'no'],
  tried: ['yes', 'no', 'not-tried'],
  called: ['yes', 'no', 'cannot', 'all-well'],
  // So that a number that is said means what the same key means.
  severity: ['1', '2', '3', '0'],
};

/** Whether the answer is a number, keyed in with its digits and then pound. */
export function isKeyedIn(step: Step): boolean {
  return step.hears !== undefined && ANSWER_KINDS[step.hears].number;
}

/** Kinds with more answers than there are keys: they are only said, and nothing depends on them. */
const ONLY_SAID: ReadonlySet<string> = new Set(['outlet-place']);

/** Whether a call waits for a step's answer before anything else. */
export function isAsked(step: Step | undefined): boolean {
  return step?.hears !== undefined && !ONLY_SAID.has(step.hears);
}

/** The answers of a step from key 1 on; of a number's step those behind the star key. Empty where it hears none. */
export function answersByKey(step: Step): readonly string[] {
  if (step.hears === undefined || ONLY_SAID.has(step.hears)) return [];
  const kind: { values: readonly string[]; number: boolean } = ANSWER_KINDS[step.hears];
  if (kind.number) return [...(step.choices ?? kind.values), 'unsure'];
  return step.choices ?? KEYS_OF_KIND[step.hears] ?? kind.values;
}

/** What keys mean at a step: an answer, a number in the unit of its kind, or null for nothing. */
export function answerOfKeys(step: Step, keys: string): string | number | null {
  const answers = answersByKey(step);
  if (!isKeyedIn(step)) {
    if (keys === UNSURE_KEY && answers.length < Number(UNSURE_KEY)) return 'unsure';
    return answers[Number(keys) - 1] ?? null;
  }
  const number = keys.replace(/#$/, '');
  const starred = /^\*(\d)$/.exec(number)?.[1];
  if (starred !== undefined) return answers[Number(starred) - 1] ?? null;
  return /^\d{1,3}(\*\d{1,2})?$/.test(number) ? Number(number.replace('*', '.')) : null;
}

/** The words in which the answers of a step are offered, the keys with them; '' where nothing is heard. */
export function offerAnswers(step: Step, lang: Language, book: FlowBook, voice: Voice): string {
  if (step.hears === undefined || !isAsked(step)) return '';
  const own = voice.answers[step.hears];
  if (own !== undefined && step.choices === undefined) return own[lang];
  const labels = book.phrases.labels[step.hears] ?? {};
  const offers = answersByKey(step).map((value, index) => {
    const wording = index === 0 ? voice.choices.first : voice.choices.more;
    const said = { key: String(index + 1), choice: labels[value]?.[lang] ?? value };
    return wording[lang].replace('{key}', said.key).replace('{choice}', said.choice);
  });
  return `${offers.join(', ')}.`;
}

/** One sentence that a call needs besides the steps, as it is said. */
export function speakPhrase(
  voice: Voice,
  phrase: VoicePhrase,
  lang: Language,
  facts: Facts,
  book: FlowBook,
  said: VoiceFacts = {},
): string {
  return aloud(fill(voice.says[phrase], lang, facts, book, said));
}

/** A step as it is said: its sentences, and how it can be answered. */
export interface SpokenStep {
  readonly sentences: readonly string[];
  /** '' where nothing is asked. */
  readonly offer: string;
}

const BREATH = /short of breath|falta el aire/i;

/** What to do when breathless is said in one breath with what takes the oxygen away, and not after the caller did it. */
function withBreath(sentences: readonly string[]): readonly string[] {
  const at = sentences.findIndex((sentence) => BREATH.test(sentence) && sentence.endsWith('?'));
  if (at < 1) return sentences;
  return [...sentences.slice(0, at - 1), sentences.slice(at - 1, at + 2).join(' '), ...sentences.slice(at + 2)];
}

/** A step's own spoken wording, else its texts made speakable; all numbers as people say them. */
export function speakStep(step: Step, lang: Language, facts: Facts, book: FlowBook, voice: Voice): SpokenStep {
  const wordings =
    step.spoken === undefined ? [step.tell, step.ask].filter((wording) => wording !== undefined) : [step.spoken];
  const filled = wordings.map((wording) => fill(wording, lang, facts, book)).join(' ');
  const words = step.spoken === undefined ? speakable(filled, lang) : filled;
  const sentences = sentencesOf(words).map(aloud);
  return {
    sentences: step['pauses-oxygen'] === true ? withBreath(sentences) : sentences,
    offer: aloud(offerAnswers(step, lang, book, voice)),
  };
}

/** Whether words are one of a list of wishes that a call knows: "next", "a person", "text me". */
export function isWish(voice: Voice, wish: keyof Voice['words'], words: string, lang: Language): boolean {
  const plain = (text: string): string =>
    text
      .toLowerCase()
      .replaceAll(/[^\p{L}\s]/gu, '')
      .trim();
  return voice.words[wish][lang].some((each) => plain(each) === plain(words));
}

/** A stretch of sentences that is said without a break, and what makes the next one come. */
export interface Prompt {
  readonly sentences: readonly string[];
  /**
   * word      the caller's: they may have something to do first
   * question  it asks, so a moment is left for the answer
   * itself    it is too short to wait after
   */
  readonly goesOnBy: 'word' | 'question' | 'itself';
}

/** A prompt shorter than this says nothing that takes time to do. Seconds. */
const SHORT_PROMPT_S = 4;

/**
 * Sentences in prompts that are no longer than a voice may speak without a break. The last one keeps the sentences right
 * before what is said with it, each before it leaves room for how to go on.
 *
 * @param lead what stands before them and asks for nothing to be done
 * @param ends what is said with the last sentence, as how to answer
 * @param tail what is said after each prompt that goes on by a word; '' where all of them go on by themselves
 */
export function inPrompts(
  lead: readonly string[],
  told: readonly string[],
  ends: readonly string[],
  tail: string,
  lang: Language,
): readonly Prompt[] {
  const seconds = (words: readonly string[]): number => secondsToSay(words.join(' '), lang);
  const sentences = [...lead, ...told];
  let cut = sentences.length;
  while (cut > 0 && seconds([...sentences.slice(cut - 1), ...ends]) <= LONGEST_PROMPT_S) cut -= 1;
  const before: string[][] = [];
  for (const sentence of sentences.slice(0, cut)) {
    const current = before.at(-1);
    if (current === undefined || seconds([...current, sentence, tail]) > LONGEST_PROMPT_S) before.push([sentence]);
    else current.push(sentence);
  }
  const last = [...sentences.slice(cut), ...ends];
  const goesOn = (words: readonly string[]): Prompt['goesOnBy'] => {
    if (words.every((sentence) => lead.includes(sentence))) return 'itself';
    if (words.some((sentence) => sentence.endsWith('?')) && !sentences.slice(cut).some((each) => each.endsWith('?')))
      return 'question';
    return tail === '' || seconds(words) < SHORT_PROMPT_S ? 'itself' : 'word';
  };
  return [...before, ...(last.length === 0 ? [] : [last])].map((words) => ({
    sentences: words,
    goesOnBy: goesOn(words),
  }));
}
