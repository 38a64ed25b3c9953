import { randomUUID } from 'node:crypto';
import type { CallDesk, OutboundCall, OutboundText, Spoken, TextDesk } from '../../desk/carrier.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';

/** Of the demo's carrier, what its phones listen to. */
export interface Air {
  onText(listener: (text: OutboundText) => void): () => void;
  onCall(listener: (call: OutboundCall) => void): () => void;
}

export interface SlipText {
  readonly at: Instant;
  readonly from: 'desk' | 'phone';
  readonly body: string;
}

/** A call as the one who is rung has it. */
export interface SlipCall {
  readonly call: number;
  readonly to: string;
  readonly at: Instant;
  /** Null while it rings. */
  readonly said: readonly string[] | null;
  /** The turn that the next key begins; 0 while it rings. */
  readonly turn: number;
}

/** As long as networks let a phone ring. */
const RINGS_FOR = 'PT30S';
/** Texts kept a phone: a demo left running must not grow. */
const KEPT = 60;

/** The phones of the demo: what each was texted and who rings it, and what their owners do with them. */
export class DemoPhones {
  readonly #texts = new Map<string, SlipText[]>();
  readonly #calls = new Map<string, SlipCall>();
  readonly #desk: TextDesk & CallDesk;
  readonly #now: () => Instant;
  readonly #deskNumber: string;

  constructor(desk: TextDesk & CallDesk, air: Air, deskNumber: string, now: () => Instant) {
    this.#desk = desk;
    this.#deskNumber = deskNumber;
    this.#now = now;
    air.onText(({ to, body }) => this.#note(to, 'desk', body));
    air.onCall(({ to, workId }) => this.#calls.set(to, { call: workId, to, at: this.#now(), said: null, turn: 0 }));
  }

  #note(phone: string, from: SlipText['from'], body: string): void {
    const texts = [...(this.#texts.get(phone) ?? []), { at: this.#now(), from, body }];
    this.#texts.set(phone, texts.slice(-KEPT));
  }

  /** What the phone sent and was sent, oldest first. */
  texts(phone: string): readonly SlipText[] {
    return this.#texts.get(phone) ?? [];
  }

  /** The call that the phone rings with, or is in; null for none. */
  call(phone: string): SlipCall | null {
    return this.#calls.get(phone) ?? null;
  }

  /** Phones that rang for too long stop ringing, as they would with a real carrier. */
  async stopRinging(): Promise<void> {
    for (const { call, to, at, said } of this.#calls.values()) {
      if (said !== null || this.#now() < after(at, RINGS_FOR)) continue;
      this.#calls.delete(to);
      await this.#desk.callEnded({ call, outcome: 'no-answer' });
    }
  }

  /** Sends a text from the phone to the desk. */
  async send(phone: string, words: string): Promise<void> {
    this.#note(phone, 'phone', words);
    const inbound = { id: randomUUID(), from: phone, to: this.#deskNumber, text: words, media: [] };
    const reply = await this.#desk.receive(inbound);
    if (reply.text !== null) this.#note(phone, 'desk', reply.text);
  }

  /** Picks the ringing phone up, or presses a key in the call; '' hangs up. */
  async press(phone: string, key: string): Promise<void> {
    const standing = this.#calls.get(phone);
    if (standing === undefined) return;
    if (key === '') return this.#end(standing, []);
    const digits = standing.said === null ? null : key;
    const spoken = await this.#desk.callTurn({ call: standing.call, turn: standing.turn, digits, machine: false });
    if (spoken.nextTurn === null) return this.#end(standing, spoken.sentences);
    this.#calls.set(phone, { ...standing, said: spoken.sentences, turn: spoken.nextTurn });
  }

  async #end({ to, call }: SlipCall, sentences: Spoken['sentences']): Promise<void> {
    this.#calls.delete(to);
    if (sentences.length > 0) this.#note(to, 'desk', `(by voice) ${sentences.join(' ')}`);
    await this.#desk.callEnded({ call, outcome: 'completed' });
  }
}
