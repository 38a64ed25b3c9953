import { randomUUID } from 'node:crypto';
import type { FromCaller, SpokenToCaller } from '../desk/carrier.ts';
import type { DemoDesk } from './demo-desk.ts';

/** Something that was said to the caller, or what happens on the line. */
export type Told = (words: string) => void;

/** A keypad's keys, and nothing else. */
const KEYS = /^[0-9*#]+$/;
/** As sure as recognition is of someone who types. */
const SURE = 1;
/** Prompts that go on by themselves, one after the other, before the caller is asked to do something. */
const MOST_PROMPTS = 12;
/** As long as a phone rings. */
const PAUSES_A_TURN = 3;
/** A pause shorter than this is no question: the desk only takes a breath. */
const BREATH_S = 5;

/** A call to the desk from the terminal: what is typed is what is said, or keys where it is only those. */
export class ChatCaller {
  readonly #demo: DemoDesk;
  readonly #from: string;
  readonly #told: Told;
  readonly #callId = `chat-${randomUUID()}`;
  #now: SpokenToCaller['after'] = { do: 'hang-up' };
  #waited = 0;

  constructor(demo: DemoDesk, from: string, told: Told) {
    this.#demo = demo;
    this.#from = from;
    this.#told = told;
  }

  get isOver(): boolean {
    return this.#now.do === 'hang-up';
  }

  async begin(): Promise<void> {
    await this.#turn(0, { came: 'nothing' });
  }

  /** What is said or pressed; '' is silence. While the caller waits for a person, time passes. */
  async say(typed: string): Promise<void> {
    const after = this.#now;
    if (after.do === 'queue') return this.#wait(after.turn);
    if (after.do === 'record') {
      const came = typed === '' ? { came: 'nothing' as const } : this.#recording();
      return this.#turn(after.turn, came);
    }
    if (after.do !== 'listen') return;
    const keys = after.keys === 'one' ? typed.slice(0, 1) : typed.replace(/#$/, '');
    const said: FromCaller =
      typed === ''
        ? { came: 'nothing' }
        : KEYS.test(typed)
          ? { came: 'keys', keys }
          : { came: 'speech', words: typed, confidence: SURE };
    await this.#turn(after.turn, said);
  }

  async hangUp(): Promise<void> {
    this.#now = { do: 'hang-up' };
    await this.#demo.desk.callerGone(this.#callId);
  }

  /** Whether the caller waits for a person. */
  get waits(): boolean {
    return this.#now.do === 'queue';
  }

  /** Whoever was rung is put through, where this caller waits; false where they do not. */
  async isPutThrough(): Promise<boolean> {
    if (this.#now.do !== 'queue') return false;
    this.#told('(you are put through and talk)');
    await this.#turn(this.#now.turn, { came: 'queue', result: 'talked' });
    return true;
  }

  #recording(): FromCaller {
    return { came: 'recording', address: `https://example.com/recordings/${this.#callId}`, lengthS: 5 };
  }

  async #turn(turn: number, said: FromCaller): Promise<void> {
    let spoken = await this.#demo.desk.callerTurn({ callId: this.#callId, from: this.#from, turn, said });
    for (let prompts = 0; prompts < MOST_PROMPTS; prompts += 1) {
      for (const { words } of spoken.sentences) this.#told(words);
      this.#now = spoken.after;
      if (spoken.after.do !== 'listen' || spoken.after.patienceS >= BREATH_S) break;
      const next = { callId: this.#callId, from: this.#from, turn: spoken.after.turn };
      spoken = await this.#demo.desk.callerTurn({ ...next, said: { came: 'nothing' } });
    }
    if (this.#now.do === 'queue')
      this.#told('(you wait; /silence lets time pass, /press 1 answers the phone that rings)');
    if (this.#now.do === 'record') this.#told('(a tone: type what you say)');
    if (this.isOver) this.#told('(the call is over)');
  }

  /** Half a minute of waiting, or until the desk goes on with the call. */
  async #wait(turn: number): Promise<void> {
    const until = this.#waited + PAUSES_A_TURN;
    while (this.#now.do === 'queue' && this.#waited < until) {
      const waiting = { callId: this.#callId, turn, count: this.#waited };
      this.#waited += 1;
      const { sentences, after } = await this.#demo.desk.callerWaits(waiting);
      for (const { words } of sentences) this.#told(words);
      if (after.do === 'leave-queue') return this.#turn(turn, { came: 'queue', result: 'left' });
      await this.#demo.pass('PT10S');
    }
  }
}
