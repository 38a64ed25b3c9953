import type { OutboundCall, Spoken } from '../desk/carrier.ts';
import type { DemoDesk } from './demo-desk.ts';

interface Line {
  readonly call: OutboundCall;
  /** The turn that the next key begins; 0 while the phone still rings. */
  readonly turn: number;
}

/** The calls of the demo: whoever is at the terminal picks up the last one that rang, and presses keys. */
export class ChatCalls {
  #line: Line | null = null;
  readonly #demo: DemoDesk;
  readonly #putThrough: () => Promise<boolean>;

  /** @param putThrough puts whoever picks up through to the caller who waits; false where nobody does */
  constructor(demo: DemoDesk, putThrough: () => Promise<boolean>) {
    this.#demo = demo;
    this.#putThrough = putThrough;
  }

  rings(call: OutboundCall): void {
    this.#line = { call, turn: 0 };
  }

  /**
   * Picks up, where that was not done yet, and presses a key; without one only picks up. Gives what is said then.
   * @throws Error when no phone rings, or the key is none.
   */
  async press(key: string): Promise<{ readonly to: string; readonly sentences: readonly string[] }> {
    const line = this.#line;
    if (line === null) throw new Error('No phone rings. A danger text makes one ring: my husband has blue lips');
    if (!/^[0-9*#]?$/.test(key)) throw new Error(`/press ${key}: write one key, as /press 1, or none to pick up.`);
    let spoken: Spoken | null = null;
    let { turn } = line;
    if (turn === 0) {
      spoken = await this.#answer(line.call, 0, null);
      turn = spoken.nextTurn ?? 0;
    }
    if (key !== '' && (spoken === null || spoken.nextTurn !== null)) {
      spoken = await this.#answer(line.call, turn, key);
    }
    const sentences = [...(spoken?.sentences ?? ['(a key is wanted)'])];
    if (spoken?.joins !== undefined && spoken.nextTurn !== null) {
      const putThrough = await this.#putThrough();
      const { workId: call } = line.call;
      spoken = await this.#demo.desk.callTurn({
        call,
        turn: spoken.nextTurn,
        digits: null,
        machine: false,
        putThrough,
      });
      sentences.push(...spoken.sentences);
    }
    const next = spoken?.nextTurn ?? null;
    this.#line = next === null ? null : { call: line.call, turn: next };
    if (next === null) await this.#demo.desk.callEnded({ call: line.call.workId, outcome: 'completed' });
    return { to: line.call.to, sentences };
  }

  /** Nobody picks up: the phone has rung for long enough. */
  async giveUp(): Promise<void> {
    const line = this.#line;
    if (line === null || line.turn > 0) return;
    this.#line = null;
    await this.#demo.desk.callEnded({ call: line.call.workId, outcome: 'no-answer' });
  }

  #answer({ workId }: OutboundCall, turn: number, digits: string | null): Promise<Spoken> {
    return this.#demo.desk.callTurn({ call: workId, turn, digits, machine: false });
  }
}
