import { expect } from 'vitest';
import { LONGEST_PROMPT_S, secondsToSay } from '../../src/flow/speech-time.ts';
import type { OutboundCall } from '../../src/desk/carrier.ts';
import { after } from '../../src/time/instant.ts';
import type { Instant } from '../../src/time/instant.ts';
import { BRAM, INES, ODALYS } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { postSigned } from '../desk/signed-posts.ts';
import { BadDocument, readVoiceDocument } from './voice-document.ts';
import type { Verb } from './voice-document.ts';

/**
 * The provider's side of calls, as its documents say: follows each document verb by verb, keeps queues, rings the phones
 * that the desk calls, joins a phone to a waiting caller, and lets time pass as it would. It fails by itself on a document
 * that the provider would refuse, on a prompt that is too long, and where a call would end in silence.
 */

/** What someone on the list does when the desk rings. */
export type Doing = 'does not answer' | 'is busy' | 'has a voicemail' | { readonly presses: readonly string[] };

const LIST: readonly string[] = [BRAM, INES, ODALYS];
const PUBLIC_URL = 'https://desk.example.com';
const ANSWERS_AFTER = 'PT6S';
const RINGS_FOR = 'PT25S';
const TALKS_FOR = 'PT60S';
/** A call that has been sent on so often without a word is a loop. */
const MOST_HOPS = 8;

const earlierFirst = (a: Instant | null, b: Instant | null): number => ((a ?? '') < (b ?? '') ? -1 : 1);

interface Event {
  readonly at: Instant;
  readonly happens: () => Promise<void>;
}

/** What must be so for a call to go on as the documents say. */
function must(holds: boolean, problem: string): void {
  if (!holds) expect.fail(problem);
}

function pathOf(address: string): string {
  must(address.startsWith(PUBLIC_URL), `${address} leads elsewhere`);
  return address.slice(PUBLIC_URL.length);
}

const langOf = (verb: Verb): 'en' | 'es' => (verb.attributes['language'] === 'es-MX' ? 'es' : 'en');

/** Seconds that the sentences of some verbs take. */
function secondsOf(verbs: readonly Verb[]): number {
  return verbs.reduce((sum, verb) => {
    if (verb.name === 'Say') return sum + secondsToSay(verb.text, langOf(verb));
    if (verb.name === 'Pause') return sum + Number(verb.attributes['length'] ?? 1);
    return sum;
  }, 0);
}

export interface Prompt {
  readonly lang: 'en' | 'es';
  readonly words: string;
}

/** The provider for one test. */
export class Exchange {
  readonly desk: NightDesk;
  /** Every prompt that was spoken to a caller, as sentences per document. */
  readonly prompts: (readonly Prompt[])[] = [];
  /** Recordings that were played to people who were rung. */
  readonly played: string[] = [];
  readonly #doing = new Map<string, Doing[]>();
  readonly #waiting = new Map<string, Caller>();
  #events: Event[] = [];
  #rung = 0;
  #ids = 0;

  constructor(desk: NightDesk) {
    this.desk = desk;
  }

  /** What a phone does from now on when it is rung; the last for all further calls. */
  doTo(phone: string, ...doings: readonly Doing[]): void {
    this.#doing.set(phone, [...doings]);
  }

  newCallId(): string {
    this.#ids += 1;
    return `CA${String(this.#ids).padStart(32, '0')}`;
  }

  /** A guest calls the desk; with null the number is hidden. */
  async call(from: string | null, callId: string = this.newCallId()): Promise<Caller> {
    const caller = new Caller(this, callId, from);
    await caller.begin();
    return caller;
  }

  async post(path: string, form: Record<string, string>): Promise<string> {
    const { body } = await postSigned(this.desk.here, path, form);
    const again = await postSigned(this.desk.here, path, form);
    must(again.body === body, `the same request again has another answer:\n${body}\n${again.body}`);
    await this.settle();
    return body;
  }

  /** Does what is due now, and rings the phones that the desk has called. */
  async settle(): Promise<void> {
    await this.desk.pass('PT0S');
    const { calls } = this.desk.carrier;
    while (this.#rung < calls.length) {
      const call = calls[this.#rung];
      this.#rung += 1;
      if (call !== undefined) this.#ring(call);
    }
  }

  /** Lets time pass; what falls due for phones and desk happens on the way. */
  async pass(duration: string): Promise<void> {
    const until = after(this.desk.now(), duration);
    await this.settle();
    for (;;) {
      const due = await this.desk.records.nextDueAt();
      const [event] = this.#events.toSorted((a, b) => earlierFirst(a.at, b.at));
      const next = [due, event?.at ?? null].filter((at) => at !== null && at <= until).toSorted(earlierFirst)[0];
      if (next === undefined || next === null) break;
      if (next > this.desk.now()) await this.desk.setClock(next);
      if (event !== undefined && event.at <= this.desk.now()) {
        this.#events = this.#events.filter((each) => each !== event);
        await event.happens();
      }
      await this.settle();
    }
    if (until > this.desk.now()) await this.desk.setClock(until);
    await this.settle();
  }

  #later(duration: string, happens: () => Promise<void>): void {
    this.#events.push({ at: after(this.desk.now(), duration), happens });
  }

  #ring(call: OutboundCall): void {
    const queue = this.#doing.get(call.to) ?? [];
    const doing: Doing = (queue.length > 1 ? queue.shift() : queue[0]) ?? 'does not answer';
    const report = (status: string) =>
      this.post(`/carrier/call/status?call=${call.workId}`, { CallSid: `CAout${call.workId}`, CallStatus: status });
    if (doing === 'does not answer') this.#later(RINGS_FOR, async () => void (await report('no-answer')));
    else if (doing === 'is busy') this.#later('PT1S', async () => void (await report('busy')));
    else {
      this.#later(ANSWERS_AFTER, async () => {
        await this.#answered(call, doing);
        await report('completed');
      });
    }
  }

  /** Follows the documents of a phone that has answered. */
  async #answered(call: OutboundCall, doing: Exclude<Doing, 'does not answer' | 'is busy'>): Promise<void> {
    const keys = doing === 'has a voicemail' ? [] : [...doing.presses];
    let path = `/carrier/call/turn?call=${call.workId}&turn=0`;
    let form: Record<string, string> = { AnsweredBy: doing === 'has a voicemail' ? 'machine_start' : 'human' };
    for (let turns = 0; turns < 10; turns += 1) {
      const document = await this.post(path, { CallSid: `CAout${call.workId}`, CallStatus: 'in-progress', ...form });
      const verbs = readVoiceDocument(document);
      const last = verbs.at(-1);
      for (const verb of [...verbs, ...(last?.holds ?? [])])
        if (verb.name === 'Play') this.played.push(verb.text.trim());
      if (last?.name === 'Gather') {
        path = pathOf(last.attributes['action'] ?? '');
        form = { Digits: keys.shift() ?? '' };
      } else if (last?.name === 'Dial') {
        const reached = await this.join(last.holds[0]?.text ?? '');
        path = pathOf(last.attributes['action'] ?? '');
        form = { DialCallStatus: reached ? 'completed' : 'no-answer' };
      } else {
        must(last?.name === 'Hangup', `a call to a technician ends with ${last?.name}`);
        return;
      }
    }
    throw new BadDocument('a call to a technician that does not end', path);
  }

  enqueue(queue: string, caller: Caller): void {
    this.#waiting.set(queue, caller);
  }

  dequeue(caller: Caller): void {
    for (const [queue, waiting] of this.#waiting) if (waiting === caller) this.#waiting.delete(queue);
  }

  /** Joins a phone to whoever waits in a queue; false where nobody does. */
  async join(queue: string): Promise<boolean> {
    const caller = this.#waiting.get(queue);
    if (caller === undefined) return false;
    this.#waiting.delete(queue);
    await caller.talks();
    return true;
  }
}

type Where =
  | { readonly at: 'listening'; readonly gather: Verb; readonly rest: readonly Verb[] }
  | { readonly at: 'recording'; readonly record: Verb; readonly rest: readonly Verb[] }
  | { readonly at: 'waiting'; readonly enqueue: Verb }
  | { readonly at: 'over' };

/** Someone who calls the desk. */
export class Caller {
  readonly callId: string;
  readonly from: string | null;
  /** Everything that was said to them, one text per document, in order. */
  readonly heard: string[] = [];
  talked = 0;
  /** A phone number that the provider dialled for them. */
  dialled: string | null = null;
  #where: Where = { at: 'over' };
  #waitAt = '';
  readonly #exchange: Exchange;

  constructor(exchange: Exchange, callId: string, from: string | null) {
    this.#exchange = exchange;
    this.callId = callId;
    this.from = from;
  }

  get at(): Where['at'] {
    return this.#where.at;
  }

  /** What was said last. */
  get last(): string {
    return this.heard.at(-1) ?? '';
  }

  /** The gather that stands. */
  get gather(): Verb {
    return this.#where.at === 'listening' ? this.#where.gather : expect.fail(`nobody listens: ${this.#where.at}`);
  }

  #form(more: Record<string, string> = {}): Record<string, string> {
    const From = this.from ?? '+266696687';
    return { CallSid: this.callId, From, To: '+19705550100', CallStatus: 'in-progress', Direction: 'inbound', ...more };
  }

  async begin(): Promise<void> {
    await this.#follow(await this.#exchange.post('/carrier/voice', this.#form({ CallStatus: 'ringing' })));
  }

  #speak(verbs: readonly Verb[]): void {
    const says = verbs.filter((verb) => verb.name === 'Say');
    if (says.length === 0) return;
    const seconds = secondsOf(says);
    const words = says.map((say) => say.text).join(' ');
    // A brief for whoever is on the list is as long as a text of it.
    must(seconds <= LONGEST_PROMPT_S || LIST.includes(this.from ?? ''), `${seconds} s are too long a prompt: ${words}`);
    this.heard.push(words);
    this.#exchange.prompts.push(says.map((say) => ({ lang: langOf(say), words: say.text })));
  }

  async #follow(document: string, hops = 0): Promise<void> {
    if (hops > MOST_HOPS) throw new BadDocument('sent on and on', document);
    await this.#perform(readVoiceDocument(document), hops);
  }

  async #perform(verbs: readonly Verb[], hops: number): Promise<void> {
    const plain = verbs.findIndex((verb) => !['Say', 'Play', 'Pause'].includes(verb.name));
    this.#speak(plain === -1 ? verbs : verbs.slice(0, plain));
    const verb = verbs[plain];
    const rest = verbs.slice(plain + 1);
    switch (verb?.name) {
      case 'Gather':
        this.#speak(verb.holds);
        this.#where = { at: 'listening', gather: verb, rest };
        return;
      case 'Record':
        this.#where = { at: 'recording', record: verb, rest };
        return;
      case 'Enqueue':
        this.#where = { at: 'waiting', enqueue: verb };
        this.#waitAt = verb.attributes['waitUrl'] ?? '';
        this.#exchange.enqueue(verb.text.trim(), this);
        return;
      case 'Redirect':
        return this.#follow(await this.#exchange.post(pathOf(verb.text.trim()), this.#form()), hops + 1);
      case 'Dial': {
        const [queue] = verb.holds;
        if (queue === undefined) {
          this.dialled = verb.text.trim();
          return this.#perform(rest, hops);
        }
        const reached = await this.#exchange.join(queue.text.trim());
        const action = pathOf(verb.attributes['action'] ?? '');
        const form = this.#form({ DialCallStatus: reached ? 'completed' : 'no-answer' });
        return this.#follow(await this.#exchange.post(action, form), hops + 1);
      }
      case 'Hangup':
        return this.#over();
      default:
        throw new Error(`no way to follow ${verb?.name ?? 'the end of a document'}`);
    }
  }

  async #over(): Promise<void> {
    this.#where = { at: 'over' };
    await this.#exchange.post('/carrier/voice/status', this.#form({ CallStatus: 'completed' }));
  }

  async #answer(more: Record<string, string>): Promise<void> {
    const action = pathOf(this.gather.attributes['action'] ?? '');
    await this.#follow(await this.#exchange.post(action, this.#form(more)));
  }

  /** Presses keys, as many as are taken. */
  async press(keys: string): Promise<void> {
    const { attributes } = this.gather;
    must((attributes['input'] ?? 'dtmf').includes('dtmf'), 'no key is listened for');
    const finish = attributes['finishOnKey'] ?? '#';
    const most = Number(attributes['numDigits'] ?? 100);
    let digits = '';
    for (const key of keys) {
      if (finish.includes(key) && digits !== '') break;
      digits += key;
      if (digits.length === most) break;
    }
    await this.#answer({ Digits: digits });
  }

  /** Says something; what the recognition makes of it comes with how sure it is. */
  async say(words: string, confidence = 0.92): Promise<void> {
    must((this.gather.attributes['input'] ?? 'dtmf').includes('speech'), 'no speech is listened for');
    await this.#answer({ SpeechResult: words, Confidence: String(confidence) });
  }

  /** Says and presses nothing until the provider goes on. */
  async silent(): Promise<void> {
    if (this.#where.at === 'recording') return this.#perform(this.#where.rest, 0);
    const { gather, rest } = this.#where.at === 'listening' ? this.#where : expect.fail('nobody listens');
    await this.#exchange.pass(`PT${gather.attributes['timeout'] ?? 5}S`);
    if (gather.attributes['actionOnEmptyResult'] === 'true') return this.#answer({ Digits: '' });
    return this.#perform(rest, 0);
  }

  /** Leaves a message after the tone. */
  async leaveMessage(address: string, seconds: number): Promise<void> {
    const record = this.#where.at === 'recording' ? this.#where.record : expect.fail('nothing is recorded');
    await this.#exchange.pass(`PT${seconds}S`);
    const more = { RecordingUrl: address, RecordingDuration: String(seconds), Digits: '#' };
    await this.#follow(await this.#exchange.post(pathOf(record.attributes['action'] ?? ''), this.#form(more)));
  }

  /** Stays in the queue for as long as that, or until the queue is left; hears what is played there. */
  async wait(duration: string): Promise<void> {
    const until = after(this.#exchange.desk.now(), duration);
    let hops = 0;
    while (this.#where.at === 'waiting' && this.#exchange.desk.now() < until) {
      const path = pathOf(this.#waitAt);
      const verbs = readVoiceDocument(await this.#exchange.post(path, this.#form({ QueuePosition: '1' })), 'queue');
      this.#speak(verbs);
      const last = verbs.at(-1);
      if (last?.name === 'Leave') {
        await this.#leftQueue('leave');
        return;
      }
      const seconds = Math.ceil(secondsOf(verbs));
      hops = seconds === 0 ? hops + 1 : 0;
      if (hops > MOST_HOPS) throw new BadDocument('someone who waits hears nothing and is sent on and on', path);
      if (last?.name === 'Redirect') this.#waitAt = last.text.trim();
      if (seconds > 0) await this.#exchange.pass(`PT${seconds}S`);
    }
  }

  async #leftQueue(result: string): Promise<void> {
    const { enqueue } = this.#where.at === 'waiting' ? this.#where : expect.fail('nobody waits');
    this.#exchange.dequeue(this);
    this.#where = { at: 'over' };
    const action = pathOf(enqueue.attributes['action'] ?? '');
    await this.#follow(await this.#exchange.post(action, this.#form({ QueueResult: result, QueueTime: '40' })));
  }

  /** Is put through to someone and talks for a while. */
  async talks(): Promise<void> {
    this.talked += 1;
    await this.#exchange.desk.pass(TALKS_FOR);
    await this.#leftQueue('bridged');
  }

  async hangUp(): Promise<void> {
    if (this.#where.at === 'waiting') {
      await this.#exchange.post(
        pathOf(this.#where.enqueue.attributes['action'] ?? ''),
        this.#form({ QueueResult: 'hangup', CallStatus: 'completed' }),
      );
      this.#exchange.dequeue(this);
    }
    await this.#over();
  }
}
