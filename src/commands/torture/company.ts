import { setTimeout as pause } from 'node:timers/promises';
import { postSigned } from '../../carrier/signed-post.ts';
import { CALL_STATUS_PATH } from '../../carrier/call-twiml.ts';
import { STATUS_PATH, textsIn } from '../../carrier/twiml.ts';
import type { Chance } from '../trials/chance.ts';
import { DESK_NUMBER } from '../trials/outfit.ts';
import { SIGNED_UNDER } from '../trials/program.ts';
import { openProviderSide } from '../trials/provider-side.ts';
import type { ProviderAnswer, ProviderRequest } from '../trials/provider-side.ts';
import type {
  CompanyLog,
  Delivery,
  DeliveryAnswer,
  Disturbance,
  Handed,
  PostedReport,
  WrittenText,
} from './company-log.ts';
import { well } from './moods.ts';
import type { Mood } from './moods.ts';

/** How a text is brought: as often as the desk asks for, and then to its fallback. */
const PATHS = ['/carrier/text', '/carrier/text', '/carrier/text', '/carrier/fallback'] as const;
const BETWEEN_TRIES_MS = 1_000;
const ANSWERED_WITHIN_MS = 15_000;
const COPIES_AT_ONCE = 5;

type Changing<T> = { -readonly [Key in keyof T]: T[Key] };

export interface NewText {
  readonly from: string;
  readonly who: 'guest' | 'technician';
  readonly danger: boolean;
  readonly words: string;
}

/** A simulated phone company: brings texts to the desk, takes what it sends, reports on it, and remembers all of it. */
export interface Company {
  readonly port: number;
  readonly log: CompanyLog;
  /** What it does with what it is asked to send, from now on. */
  mood: Mood;
  /** Whether each text is brought five times at once. */
  copies: boolean;
  /** Brings a text until it is answered or given up. Gives the reply; null without one. */
  bring(text: NewText): Promise<string | null>;
  /** Calls the listener with each text that a phone gets from the desk; `quiet` waits for what it does. */
  onText(listener: (to: string, body: string) => Promise<void>): void;
  /** Notes that something is done to the desk, until the returned function is called. */
  disturb(what: string): () => void;
  /** Waits for reports under way and for listeners. */
  quiet(): Promise<void>;
  close(): Promise<void>;
}

/** The reply in an answer, and the entry that it asks for reports on. */
function answerIn(body: string): DeliveryAnswer {
  const entry = new RegExp(`${STATUS_PATH}\\?reply=(\\d+)`).exec(body)?.[1];
  return { reply: textsIn(body)[0] ?? null, entryId: entry === undefined ? null : Number(entry) };
}

/** What the network says of a text, in which order: in one, twice or never, sometimes the last word first. */
const REPORTS: readonly (readonly string[])[] = [
  ['sent', 'delivered'],
  ['sent', 'delivered'],
  ['sent', 'delivered'],
  ['sent', 'delivered'],
  ['delivered', 'sent'],
  ['sent', 'sent', 'delivered', 'delivered'],
  ['delivered', 'delivered'],
  ['sent'],
  [],
];

/**
 * Opens one.
 * @param webs where the desk's processes that answer are, also those that are down
 * @param nowMs the trial's own time
 */
export async function openCompany(webs: readonly string[], chance: Chance, nowMs: () => number): Promise<Company> {
  const texts: Changing<WrittenText>[] = [];
  const handed: Changing<Handed>[] = [];
  const reports: Changing<PostedReport>[] = [];
  const disturbances: Changing<Disturbance>[] = [];
  const listeners: ((to: string, body: string) => Promise<void>)[] = [];
  const busy = new Set<Promise<unknown>>();
  let web = 0;
  const nextWeb = (): string => {
    web += 1;
    return webs[web % webs.length] ?? '';
  };

  function later(doing: () => Promise<unknown>): void {
    const done = doing().finally(() => busy.delete(done));
    busy.add(done);
  }

  async function post(path: string, form: Readonly<Record<string, string>>): Promise<string | null> {
    try {
      const within = AbortSignal.timeout(ANSWERED_WITHIN_MS);
      const { ok, body } = await postSigned(nextWeb(), SIGNED_UNDER, path, form, within);
      return ok ? body : null;
    } catch {
      return null; // no connection, or no answer in time
    }
  }

  async function report(about: PostedReport['about'], row: number): Promise<void> {
    for (const status of chance.pick(REPORTS) ?? []) {
      await pause(50 + chance.below(200));
      const posted: Changing<PostedReport> = { about, row, status, takenAt: null };
      reports.push(posted);
      const answer = await post(`${STATUS_PATH}?${about}=${row}`, { MessageStatus: status });
      if (answer !== null) posted.takenAt = nowMs();
    }
  }

  async function deliver(text: { deliveries: Delivery[]; form: Readonly<Record<string, string>> }, path: string) {
    const at = nowMs();
    const body = await post(path, text.form);
    const answer = body === null ? null : answerIn(body);
    text.deliveries.push({ at, endedAt: nowMs(), answer });
    return answer;
  }

  async function asked({
    what,
    form,
  }: ProviderRequest): Promise<{ answer: ProviderAnswer; handed?: Changing<Handed> }> {
    if (what === 'account') return { answer: { status: 200, body: { status: 'active' } } };
    const { taken, afterMs, answer } = company.mood(chance);
    const id = `${what === 'text' ? 'SM' : 'CA'}out${handed.length + 1}`;
    const query = URL.canParse(form['StatusCallback'] ?? '')
      ? new URL(form['StatusCallback'] ?? '').searchParams
      : null;
    const work = Number(query?.get('work') ?? query?.get('call') ?? 0);
    const { To: to = '', Body: body = '' } = form;
    const one: Changing<Handed> = { at: nowMs(), what, id, work, to, body, taken, told: false };
    handed.push(one);
    if (taken && what === 'text') {
      for (const listener of listeners) later(() => listener(to, body));
      later(() => report('work', work));
    }
    if (taken && what === 'call') {
      later(async () => {
        await pause(100);
        await post(`${CALL_STATUS_PATH}?call=${work}`, { CallStatus: 'no-answer' });
      });
    }
    await pause(afterMs);
    return { answer: answer(id), handed: one };
  }

  const side = await openProviderSide(asked, ({ answer, handed: one }, whole) => {
    if (one !== undefined) one.told = whole && answer !== 'cut' && answer.status < 500;
  });

  const company: Company = {
    port: side.port,
    log: { texts, handed, reports, disturbances },
    mood: well,
    copies: false,
    async bring({ from, who, danger, words }) {
      const id = `SM${String(texts.length + 1).padStart(32, '0')}`;
      const form = { MessageSid: id, From: from, To: DESK_NUMBER, Body: words, NumMedia: '0' };
      const deliveries: Delivery[] = [];
      texts.push({ id, from, who, danger, deliveries });
      const first = Array.from({ length: company.copies ? COPIES_AT_ONCE : 0 }, () =>
        deliver({ deliveries, form }, PATHS[0]),
      );
      let answer = (await Promise.all(first)).find((each) => each !== null) ?? null;
      for (const path of PATHS) {
        if (answer !== null) break;
        if (deliveries.length > 0) await pause(BETWEEN_TRIES_MS);
        answer = await deliver({ deliveries, form }, path);
      }
      const entry = answer?.entryId ?? null;
      if (entry !== null) later(() => report('reply', entry));
      return answer?.reply ?? null;
    },
    onText: (listener) => void listeners.push(listener),
    disturb(what) {
      const disturbance: Changing<Disturbance> = { what, from: nowMs(), to: Infinity };
      disturbances.push(disturbance);
      return () => void (disturbance.to = nowMs());
    },
    async quiet() {
      while (busy.size > 0) await Promise.all(busy);
    },
    close: () => side.close(),
  };
  return company;
}
