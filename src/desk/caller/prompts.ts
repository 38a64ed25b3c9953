import { aloud } from '../../flow/aloud.ts';
import { OPENING } from '../../flow/book.ts';
import type { FlowBook, StepId } from '../../flow/book.ts';
import type { Phrases, Step, VoicePhrase } from '../../flow/document.ts';
import type { Facts } from '../../flow/facts.ts';
import { fill } from '../../flow/say.ts';
import type { VoiceFacts } from '../../flow/say.ts';
import { inPrompts, isAsked, isKeyedIn, isWish, offerAnswers, speakPhrase, speakStep } from '../../flow/speak.ts';
import type { Prompt } from '../../flow/speak.ts';
import { sentencesOf, speakable } from '../../flow/speakable.ts';
import { LONGEST_PROMPT_S, secondsToSay } from '../../flow/speech-time.ts';
import type { Flows, Turn } from '../../flow/turn.ts';
import type { Language } from '../../words/heard.ts';
import type { Sentence } from '../carrier.ts';
import { otherLanguage } from './language.ts';
import type { Then } from './standing.ts';

/** What is to be said, in prompts, and what comes after them. */
export interface Plan {
  readonly prompts: readonly Prompt[];
  readonly after: Then;
  /** The step whose words or question these are; null before anything was said. */
  readonly step: StepId | null;
}

/** Where it is listened: at a step, with null at what is wrong, `unit` or `danger`: no step has a name without a dot. */
export type ListensAt = StepId | null;

/** The words of one call: its language, what is known of the guest, and the flows that its conversation is on. */
export class CallWords {
  readonly lang: Language;
  readonly facts: Facts;
  readonly flows: Flows;
  /** Words of a call and of an emergency are always today's. */
  readonly #today: FlowBook;
  /** Whether the phone that is used can be texted to. */
  readonly canText: boolean;

  constructor(made: { lang: Language; facts: Facts; flows: Flows; today: FlowBook; canText: boolean }) {
    this.lang = made.lang;
    this.facts = made.facts;
    this.flows = made.flows;
    this.#today = made.today;
    this.canText = made.canText;
  }

  phrase(phrase: VoicePhrase, said: VoiceFacts = {}): string {
    return speakPhrase(this.#today.voice, phrase, this.lang, this.facts, this.#today, said);
  }

  /** The other language, offered in itself. */
  get languageOffer(): string {
    return aloud(this.#today.voice.says['this-language'][otherLanguage(this.lang)]);
  }

  /** A sentence with the language it is to be said in. */
  sentence(words: string): Sentence {
    return { lang: words === this.languageOffer ? otherLanguage(this.lang) : this.lang, words };
  }

  /** How to have the next prompt said. */
  get tail(): string {
    return this.phrase(this.canText ? 'next-or-text' : 'next');
  }

  around(phrase: keyof Phrases['around']): string {
    return aloud(
      speakable(fill(this.flows.book.phrases.around[phrase], this.lang, this.facts, this.flows.book), this.lang),
    );
  }

  step(id: StepId | null): Step | undefined {
    return this.flows.steps.get(id ?? OPENING);
  }

  /** Sentences in prompts, with what comes after them. */
  plan(
    sentences: readonly string[],
    after: Then,
    step: StepId | null,
    { lead = [], ends = [] }: { readonly lead?: readonly string[]; readonly ends?: readonly string[] } = {},
  ): Plan {
    const last = [...ends, ...this.#closing(after)];
    // Only what is to be done before an answer waits for the caller's word.
    const tail = after.leadsTo === 'ask' ? this.tail : '';
    return { prompts: inPrompts(lead, sentences, last, tail, this.lang), after, step };
  }

  /** What is said at the end of all that leads to it. */
  #closing({ leadsTo }: Then): readonly string[] {
    if (leadsTo === 'queue') return [this.phrase('ringing')];
    if (leadsTo === 'farewell') return [this.phrase('anything-else')];
    return [];
  }

  /** A step's words and question; the question of what is wrong where nothing was said yet. */
  question(id: StepId | null, lead: readonly string[] = []): Plan {
    const step = this.step(id);
    if (step === undefined) return this.plan([], { leadsTo: 'farewell' }, id, { lead });
    const { sentences, offer } = speakStep(step, this.lang, this.facts, this.flows.book, this.#today.voice);
    if (!isAsked(step)) return this.plan(sentences, { leadsTo: 'farewell' }, id, { lead });
    return this.plan(sentences, { leadsTo: 'ask', step: id }, id, { lead, ends: [offer] });
  }

  /** The emergency: to hang up and call, where they are, and what to press when that cannot be. */
  emergency(signs: readonly string[], lead: readonly string[] = []): Plan {
    const { danger } = this.#today.voice;
    const getOut = signs.some((sign) => sign === 'fire' || sign === 'carbon-monoxide');
    const known = this.facts.address !== null && this.facts.room !== null;
    const words = [getOut ? danger['get-out'] : danger.first, known ? danger.where : danger['where-unknown']];
    const said = words.map((wording) => aloud(fill(wording, this.lang, this.facts, this.#today)));
    const urgent = [...lead, ...said];
    const menu = sentencesOf(this.dangerWords('menu'));
    // In one breath where it can be; what stands first is what counts.
    const fits = secondsToSay([...urgent, ...menu].join(' '), this.lang) <= LONGEST_PROMPT_S;
    const prompts = (fits ? [[...urgent, ...menu]] : [urgent, menu]).map((sentences): Prompt => ({
      sentences,
      goesOnBy: 'itself',
    }));
    return { prompts, after: { leadsTo: 'danger' }, step: null };
  }

  dangerWords(words: 'menu' | 'hang-up' | 'hold'): string {
    return aloud(fill(this.#today.voice.danger[words], this.lang, this.facts, this.#today));
  }

  /** What a turn of the flows says, sentence by sentence, without the answers it offers. */
  sentencesOf(turn: Turn): readonly string[] {
    return turn.said.flatMap((line) => {
      if (line.line === 'phrase') return sentencesOf(this.around(line.phrase));
      if (line.line === 'emergency') return [];
      const step = this.step(line.step);
      return step === undefined
        ? []
        : speakStep(step, this.lang, this.facts, this.flows.book, this.#today.voice).sentences;
    });
  }

  offer(id: StepId): string {
    const step = this.step(id);
    return step === undefined ? '' : aloud(offerAnswers(step, this.lang, this.flows.book, this.#today.voice));
  }

  /** Words that the recognition is told to expect at a step; with null at the question of what is wrong. */
  hints(id: ListensAt): readonly string[] {
    const { hints } = this.#today.voice;
    const always = hints['always']?.[this.lang] ?? [];
    if (id === 'unit' || id === 'danger')
      return [...(hints[id === 'unit' ? 'unit' : 'called']?.[this.lang] ?? []), ...always];
    const step = this.step(id);
    if (step?.hears === undefined) return always;
    const labels = this.flows.book.phrases.labels[step.hears] ?? {};
    const choices = (step.choices ?? []).flatMap((value) => labels[value]?.[this.lang] ?? []);
    return [...choices, ...(hints[step.hears]?.[this.lang] ?? []), ...always];
  }

  /** What a key stands for, as it is read: the label of the choice, else the answer itself. */
  meaning(id: StepId | null, answer: string | number | null): string {
    const hears = this.step(id)?.hears;
    const label = hears === undefined ? undefined : this.flows.book.phrases.labels[hears]?.[String(answer)];
    return label?.[this.lang] ?? String(answer);
  }

  /** Whether a step is answered with digits and then pound. */
  takesDigits(id: StepId | null): boolean {
    const step = this.step(id);
    return step !== undefined && isKeyedIn(step);
  }

  /** Whether words are one of a list of wishes: "next", "text me". */
  wishes(wish: 'next' | 'text', words: string): boolean {
    return isWish(this.#today.voice, wish, words, this.lang);
  }
}
