import { randomUUID } from 'node:crypto';
import type { FromCaller } from '../desk/carrier.ts';
import { CallerOnLine } from './caller-on-line.ts';
import type { DemoDesk } from './demo-desk.ts';

/** Something that was said to the caller, or what happens on the line. */
export type Told = (words: string) => void;

/** A keypad's keys, and nothing else. */
const KEYS = /^[0-9*#]+$/;
/** As sure as recognition is of someone who types. */
const SURE = 1;

/** A call to the desk from the terminal: what is typed is what is said, or keys where it is only those. */
export class ChatCaller {
  readonly #caller: CallerOnLine;
  readonly #told: Told;
  readonly #callId = `chat-${randomUUID()}`;

  constructor(demo: DemoDesk, from: string, told: Told) {
    this.#told = told;
    const pass = (duration: string): Promise<void> => demo.pass(duration);
    this.#caller = new CallerOnLine({ line: demo.desk, callId: this.#callId, from, told, pass });
  }

  get isOver(): boolean {
    return this.#caller.stands.do === 'hang-up';
  }

  /** Whether the caller waits for a person. */
  get waits(): boolean {
    return this.#caller.stands.do === 'queue';
  }

  async begin(): Promise<void> {
    await this.#caller.begin();
    this.#sayHowItStands();
  }

  /** What is said or pressed; '' is silence. While the caller waits for a person, time passes. */
  async say(typed: string): Promise<void> {
    const waited = this.waits;
    await this.#caller.answer(this.#said(typed));
    if (!(waited && this.waits)) this.#sayHowItStands();
  }

  async hangUp(): Promise<void> {
    await this.#caller.hangUp();
  }

  /** Whoever was rung is put through, where this caller waits; false where they do not. */
  async isPutThrough(): Promise<boolean> {
    if (!this.waits) return false;
    this.#told('(you are put through and talk)');
    await this.#caller.hasTalked();
    this.#sayHowItStands();
    return true;
  }

  #said(typed: string): FromCaller {
    const { stands } = this.#caller;
    if (typed === '') return { came: 'nothing' };
    if (stands.do === 'record') {
      return { came: 'recording', address: `https://example.com/recordings/${this.#callId}`, lengthS: 5 };
    }
    const keys = stands.do === 'listen' && stands.keys === 'one' ? typed.slice(0, 1) : typed.replace(/#$/, '');
    return KEYS.test(typed) ? { came: 'keys', keys } : { came: 'speech', words: typed, confidence: SURE };
  }

  #sayHowItStands(): void {
    const { do: stands } = this.#caller.stands;
    if (stands === 'queue') this.#told('(you wait; /silence lets time pass, /press 1 answers the phone that rings)');
    if (stands === 'record') this.#told('(a tone: type what you say)');
    if (stands === 'hang-up') this.#told('(the call is over)');
  }
}
