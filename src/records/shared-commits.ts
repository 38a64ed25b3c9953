import { setImmediate as nextTurn } from 'node:timers/promises';
import type { AddedWork, TextOrder } from '../desk/records.ts';
import type { Engine, Handle } from './engine.ts';
import { explained, worthRepeating } from './errors.ts';
import { begin, giveUp, inTransaction, tell, writing } from './transactions.ts';

/** Texts in one commit at most: more would make the first of them wait for little gain. */
const TEXTS_TOGETHER = 16;

/** Turns of the event loop from a request's first bytes to its text, measured: headers, body, form. */
const TURNS_TO_READ_A_TEXT = 3;

interface Text {
  /** Whose order it keeps: texts of one phone stay in the order in which they came. */
  readonly inOrderOf: string;
  readonly goesFirst: boolean;
  /** Does what the text does and gives the function that answers its caller, to be called after the commit. */
  attempt(handle: Handle): Promise<() => void>;
  reject(error: unknown): void;
}

function byOrder(one: Text, other: Text): number {
  if (one.inOrderOf === other.inOrderOf) return 0;
  return one.inOrderOf < other.inOrderOf ? -1 : 1;
}

/**
 * Lets texts that arrive together share one commit, since the disk flush of a commit costs more than all the rest.
 *
 * idle      nothing waits and nothing runs
 * gathering the first text waits while turns of the event loop bring more, so that those that came with it are read
 * together  2 to 16 of them run one strictly after another in one transaction, a savepoint each; then the commit; then each is
 *           answered, or told its own error
 * singly    there is only one; or the transaction did not stand or could not be committed: each runs again in a transaction of its own
 * refused   no transaction could be opened at all: each is told why
 */
export class SharedCommits {
  readonly #engine: Engine;
  readonly #waiting: Text[] = [];
  #running: Promise<void> | null = null;

  constructor(engine: Engine) {
    this.#engine = engine;
  }

  /** Queues one text. `use` may run twice, so it must touch nothing but the records. */
  share<T>(use: (handle: Handle) => Promise<T>, { inOrderOf = '', mustNotWait }: TextOrder = {}): Promise<T> {
    return new Promise((resolve, reject) => {
      this.#waiting.push({
        inOrderOf,
        goesFirst: this.#running !== null && mustNotWait?.() === true,
        attempt: async (handle) => {
          const value = await use(handle);
          return () => resolve(value);
        },
        reject,
      });
      this.#running ??= this.#run();
    });
  }

  /** Waits until every text that was queued is answered. */
  async idle(): Promise<void> {
    await this.#running;
  }

  async #run(): Promise<void> {
    do {
      await this.#gather();
      // Another process may hold the same phones: in one order for all, neither waits for the other for ever.
      const texts = this.#takeNext().toSorted(byOrder);
      const left = texts.length === 1 ? texts : await this.#together(texts);
      for (const text of left) await this.#singly(text);
    } while (this.#waiting.length > 0);
    this.#running = null;
  }

  /** Takes the oldest that wait; before them those that go first, with what else of their phones is there. */
  #takeNext(): readonly Text[] {
    const first = new Set(this.#waiting.filter(({ goesFirst }) => goesFirst).map(({ inOrderOf }) => inOrderOf));
    if (first.size === 0) return this.#waiting.splice(0, TEXTS_TOGETHER);
    const taken = new Set(this.#waiting.filter(({ inOrderOf }) => first.has(inOrderOf)).slice(0, TEXTS_TOGETHER));
    this.#waiting.splice(0, Infinity, ...this.#waiting.filter((text) => !taken.has(text)));
    return [...taken];
  }

  /** Waits while more texts come in, and for those whose bodies are being read. */
  async #gather(): Promise<void> {
    let known = 0;
    for (let quiet = 0; quiet < TURNS_TO_READ_A_TEXT && known < TEXTS_TOGETHER; quiet += 1) {
      if (this.#waiting.length > known) quiet = 0;
      known = this.#waiting.length;
      await nextTurn();
    }
  }

  /** Runs the texts in one transaction. Returns those that must be run again singly, none of which has been answered. */
  async #together(texts: readonly Text[]): Promise<readonly Text[]> {
    let transaction: Awaited<ReturnType<typeof begin>>;
    try {
      transaction = await begin(this.#engine);
    } catch (error) {
      // None of them would get further alone, and each would wait as long again.
      for (const text of texts) text.reject(explained(error, this.#engine));
      return [];
    }
    const written: AddedWork[] = [];
    const answers: (() => void)[] = [];
    const again: Text[] = [];
    try {
      for (const text of texts) {
        const marked = await transaction.savepoint('text').execute();
        try {
          const { handle, added } = writing(this.#engine, transaction);
          const answer = await text.attempt(handle);
          await marked.releaseSavepoint('text').execute();
          answers.push(answer);
          written.push(...added);
        } catch (error) {
          // Both throw when the transaction no longer stands: that is how it is looked at.
          await marked.rollbackToSavepoint('text').execute();
          await marked.releaseSavepoint('text').execute();
          if (worthRepeating(error)) again.push(text);
          else answers.push(() => text.reject(explained(error, this.#engine)));
        }
      }
      await transaction.commit().execute();
    } catch {
      await giveUp(transaction);
      return texts;
    }
    tell(this.#engine, written);
    for (const answer of answers) answer();
    return again;
  }

  async #singly(text: Text): Promise<void> {
    try {
      const answer = await inTransaction(this.#engine, (handle) => text.attempt(handle));
      answer();
    } catch (error) {
      text.reject(error);
    }
  }
}
