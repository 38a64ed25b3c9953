import type { CallDesk, FromCaller, SpokenToCaller } from '../desk/carrier.ts';

/** The desk as a call reaches it: in process, or through its webhooks. */
export type CallLine = Pick<CallDesk, 'callerTurn' | 'callerWaits' | 'callerGone'>;

/** Prompts that go on by themselves, one after the other, before the caller is asked to do something. */
const MOST_PROMPTS = 12;
/** As long as a phone rings. */
const PAUSES_A_TURN = 3;
/** A pause shorter than this is no question: the desk only takes a breath. */
const BREATH_S = 5;

export interface CallParts {
  readonly line: CallLine;
  readonly callId: string;
  /** E.164; null hides the number. */
  readonly from: string | null;
  /** What is said to the caller, a sentence at a time. */
  readonly told: (words: string) => void;
  /** Lets time pass while the caller waits. */
  readonly pass: (duration: string) => Promise<void>;
}

/** Someone who calls the desk and answers what is asked: follows what the desk says as the phone company would. */
export class CallerOnLine {
  readonly #parts: CallParts;
  #now: SpokenToCaller['after'] = { do: 'hang-up' };
  #waited = 0;

  constructor(parts: CallParts) {
    this.#parts = parts;
  }

  /** What the line is open for now. */
  get stands(): SpokenToCaller['after'] {
    return this.#now;
  }

  async begin(): Promise<void> {
    await this.#turn(0, { came: 'nothing' });
  }

  /** What the caller says, presses or leaves. While they wait for a person half a minute passes, whatever they say. */
  async answer(said: FromCaller): Promise<void> {
    const after = this.#now;
    if (after.do === 'queue') return this.#wait(after.turn);
    if (after.do === 'record' || after.do === 'listen') await this.#turn(after.turn, said);
  }

  async hangUp(): Promise<void> {
    this.#now = { do: 'hang-up' };
    await this.#parts.line.callerGone(this.#parts.callId);
  }

  /** They have talked with whoever was put through to them; false where they do not wait for anyone. */
  async hasTalked(): Promise<boolean> {
    if (this.#now.do !== 'queue') return false;
    await this.#turn(this.#now.turn, { came: 'queue', result: 'talked' });
    return true;
  }

  async #turn(turn: number, said: FromCaller): Promise<void> {
    const { line, callId, from, told } = this.#parts;
    let spoken = await line.callerTurn({ callId, from, turn, said });
    for (let prompts = 0; prompts < MOST_PROMPTS; prompts += 1) {
      for (const { words } of spoken.sentences) told(words);
      this.#now = spoken.after;
      if (spoken.after.do !== 'listen' || spoken.after.patienceS >= BREATH_S) break;
      spoken = await line.callerTurn({ callId, from, turn: spoken.after.turn, said: { came: 'nothing' } });
    }
  }

  /** Half a minute of waiting, or until the desk goes on with the call. */
  async #wait(turn: number): Promise<void> {
    const { line, callId, told, pass } = this.#parts;
    const until = this.#waited + PAUSES_A_TURN;
    while (this.#now.do === 'queue' && this.#waited < until) {
      const waiting = { callId, turn, count: this.#waited };
      this.#waited += 1;
      const { sentences, after } = await line.callerWaits(waiting);
      for (const { words } of sentences) told(words);
      if (after.do === 'leave-queue') return this.#turn(turn, { came: 'queue', result: 'left' });
      await pass('PT10S');
    }
  }
}
