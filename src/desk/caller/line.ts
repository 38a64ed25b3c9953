import type { Instant } from '../../time/instant.ts';
import type { Language } from '../../words/heard.ts';
import type { AfterWords, SpokenToCaller } from '../carrier.ts';
import type { IncomingCall, Tx } from '../records.ts';
import { addDeskEntry } from '../guest/desk-entry.ts';
import type { Surroundings } from '../surroundings.ts';
import type { CallWords, ListensAt, Plan } from './prompts.ts';
import { sceneOf } from './scene.ts';
import type { Scene } from './scene.ts';
import type { Standing, Then } from './standing.ts';
import { beginWaiting, queueOf } from './waiting.ts';
import { saidId } from './turn-id.ts';

/** Seconds of silence after which nothing is what came. */
const PATIENCE_S = {
  question: 8,
  /** Something is to be done before the answer. */
  word: 15,
  /** After the caller was told to take their time. */
  long: 45,
  pause: 4,
  itself: 1,
} as const;
/** The carrier records for no longer than this. */
const LONGEST_RECORDING_S = 120;

/** What of a call's standing outlives the words that are said. */
export interface Kept {
  readonly misses?: number;
  /** The unit that was named before anything else. */
  readonly tag?: string | undefined;
}

/** One turn of a call that is being answered: what was there before it, and what is written because of it. */
export class Line {
  readonly desk: Surroundings;
  readonly tx: Tx;
  readonly turn: number;
  readonly now: Instant;
  #call: IncomingCall;
  #said = 0;

  constructor(made: { desk: Surroundings; tx: Tx; call: IncomingCall; turn: number; now: Instant }) {
    this.desk = made.desk;
    this.tx = made.tx;
    this.#call = made.call;
    this.turn = made.turn;
    this.now = made.now;
  }

  get call(): IncomingCall {
    return this.#call;
  }

  get lang(): Language {
    return this.#call.lang;
  }

  scene(tag?: string): Promise<Scene> {
    return sceneOf(this.desk, this.tx, this.#call, { lang: this.lang, tag }, this.now);
  }

  async save(changes: Partial<IncomingCall>): Promise<void> {
    this.#call = { ...this.#call, ...changes };
    await this.tx.saveIncomingCall(this.#call);
  }

  stand(standing: Standing, changes: Partial<IncomingCall> = {}): Promise<void> {
    return this.save({ ...changes, standing: JSON.stringify(standing) });
  }

  /** What is said now, as an entry of the conversation, where there is one. */
  async spoken(
    words: CallWords,
    sentences: readonly string[],
    after: AfterWords,
    step: string | null = null,
  ): Promise<SpokenToCaller> {
    const { conversationId, callId } = this.#call;
    if (conversationId !== null && sentences.length > 0) {
      const messageId = saidId(callId, this.turn, this.#said);
      this.#said += 1;
      await addDeskEntry(this.tx, { conversationId, words: sentences.join(' '), step, messageId }, this.now);
    }
    return { sentences: sentences.map((sentence) => words.sentence(sentence)), after };
  }

  /** Listens at a step. */
  listen(words: CallWords, at: ListensAt, patience: keyof typeof PATIENCE_S, keys?: 'one' | 'digits'): AfterWords {
    const digits = at === 'unit' || (at !== 'danger' && words.takesDigits(at));
    return {
      do: 'listen',
      turn: this.turn + 1,
      lang: this.lang,
      hints: words.hints(at),
      keys: keys ?? (digits ? 'digits' : 'one'),
      patienceS: PATIENCE_S[patience],
    };
  }

  /** Says a plan from its first prompt on. What is kept of the call's standing goes with it to the last. */
  async say(words: CallWords, plan: Plan, kept: Kept = {}): Promise<SpokenToCaller> {
    const [first, ...left] = plan.prompts;
    const keep = { misses: kept.misses ?? 0, ...(kept.tag === undefined ? {} : { tag: kept.tag }) };
    if (first === undefined || left.length === 0) {
      return this.#finish(words, first?.sentences ?? [], plan.after, plan.step, keep);
    }
    const byWord = first.goesOnBy === 'word';
    await this.stand({ at: 'prompts', step: plan.step, left, after: plan.after, byWord, ...keep });
    const patience = byWord ? 'word' : first.goesOnBy === 'question' ? 'pause' : 'itself';
    const after = this.listen(words, plan.step, patience, byWord ? 'one' : undefined);
    return this.spoken(words, [...first.sentences, ...(byWord ? [words.tail] : [])], after, plan.step);
  }

  async #finish(
    words: CallWords,
    sentences: readonly string[],
    after: Then,
    step: string | null,
    keep: { readonly misses: number; readonly tag?: string },
  ): Promise<SpokenToCaller> {
    switch (after.leadsTo) {
      case 'ask':
        await this.stand({ at: 'question', step: after.step, ...keep });
        return this.spoken(words, sentences, this.listen(words, after.step, 'question'), step);
      case 'farewell': {
        await this.stand({ at: 'farewell', ...keep });
        return this.spoken(words, sentences, this.listen(words, step, 'question', 'one'), step);
      }
      case 'danger':
        await this.stand({ at: 'danger', ...keep });
        return this.spoken(words, sentences, this.listen(words, 'danger', 'question'), step);
      case 'queue':
        return this.#queue(words, sentences, after.calloutId);
      case 'hang-up':
        return this.hangUp(words, sentences);
      default:
        return after satisfies never;
    }
  }

  async hangUp(words: CallWords, sentences: readonly string[]): Promise<SpokenToCaller> {
    await this.stand({ at: 'over', misses: 0 }, { endedAt: this.now, waitsFor: null });
    return this.spoken(words, sentences, { do: 'hang-up' });
  }

  async #queue(words: CallWords, sentences: readonly string[], calloutId: number): Promise<SpokenToCaller> {
    const callout = await this.tx.callout(calloutId);
    const waiting = callout === null ? null : await beginWaiting(this.tx, this.call, callout, this.now);
    if (waiting === null) return this.offerRecording(words, calloutId);
    await this.stand({ ...waiting, misses: 0 }, { waitsFor: calloutId });
    const after: AfterWords = { do: 'queue', turn: this.turn + 1, queue: queueOf(this.call) };
    return this.spoken(words, sentences, after);
  }

  async offerRecording(words: CallWords, calloutId: number): Promise<SpokenToCaller> {
    await this.stand({ at: 'consent', misses: 0, calloutId }, { waitsFor: null });
    const after = this.listen(words, null, 'question', 'one');
    return this.spoken(words, [words.phrase('nobody')], after);
  }

  async record(words: CallWords, calloutId: number): Promise<SpokenToCaller> {
    await this.stand({ at: 'recording', misses: 0, calloutId });
    const after: AfterWords = { do: 'record', turn: this.turn + 1, longestS: LONGEST_RECORDING_S };
    return this.spoken(words, [words.phrase('record')], after);
  }
}
