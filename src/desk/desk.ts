import { hashOf } from '../flow/book.ts';
import type { FlowBook } from '../flow/book.ts';
import { flowsOf } from '../flow/turn.ts';
import type { Instant } from '../time/instant.ts';
import type { Hear } from '../words/heard.ts';
import { answerCaller, callerGone, callerWaits } from './caller/caller.ts';
import { answerTurn, endCall } from './call/calls.ts';
import type { PageDesk } from './page-desk.ts';
import type { CallDesk, Carrier, Inbound, Reply, TextDesk } from './carrier.ts';
import { clockWatch } from './due/clock-watch.ts';
import { actByPage, saidOfDeed } from './callout/by-page.ts';
import { changeAsChosen } from './callout/roster-change.ts';
import { doWork } from './due/due.ts';
import type { WorkOutcome } from './due/outcome.ts';
import type { Outfit } from './guest/facts-of.ts';
import { takeReport } from './due/late-reports.ts';
import { planNow } from './due/plan.ts';
import { messageOf, pictureOf } from './media.ts';
import { receiveText } from './receive.ts';
import type { Records, Work } from './records.ts';
import { safeReply } from './guest/safe-reply.ts';
import { canSend } from './due/can-send.ts';
import { SendHealth } from './due/send-health.ts';
import type { Surroundings } from './surroundings.ts';

/** The desk's use cases, for the carrier's webhooks, the work loop, the commands and the pages. */
export interface Desk extends TextDesk, CallDesk, PageDesk {
  /** Does one piece of due work. */
  doWork(work: Work): Promise<WorkOutcome>;
  /** To be called before work is looked for: makes up for a clock that was set back. */
  lookAtClock(): Promise<void>;
  /** Whether a text would go out now: the records can be written, the last sends worked, the carrier answers. */
  canSend(): Promise<boolean>;
  /** Takes up edited flows, which must have passed their checks. Conversations stay on the version they began with. */
  takeUp(book: FlowBook): Promise<void>;
}

export interface DeskParts {
  readonly records: Records;
  readonly carrier: Carrier;
  readonly hear: Hear;
  /** The same by the words alone, sooner and less well: tells which texts must not wait for others. @defaultValue `hear` */
  readonly hearWords?: Hear;
  readonly book: FlowBook;
  readonly outfit: Outfit;
  /** Phones that are told directly, past records and roster, when a text could not be handled. E.164. */
  readonly alarmPhones: readonly string[];
  /** Where technicians find a callout by browser, without a slash at its end. @defaultValue null */
  readonly pagesUrl?: string | null;
  /** @defaultValue 'monthly' */
  readonly drillReminder?: 'monthly' | 'never';
  /** @defaultValue null: never */
  readonly keepWordsDays?: number | null;
  readonly now: () => Instant;
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
  readonly wake: () => void;
}

/** Opens the desk: its flow version is put into the records, so that conversations can name it. */
export async function openDesk(parts: DeskParts): Promise<Desk> {
  const { records, carrier, hear, hearWords = hear, outfit, now } = parts;

  async function withFlows(book: FlowBook): Promise<Surroundings> {
    const flowHash = hashOf(book);
    const flows = flowsOf(book);
    await records.transaction((tx) => tx.keepFlowVersion(flowHash, book, now()));
    return {
      ...parts,
      drillReminder: parts.drillReminder ?? 'monthly',
      keepWordsDays: parts.keepWordsDays ?? null,
      pagesUrl: parts.pagesUrl ?? null,
      sends,
      flows,
      flowHash,
    };
  }
  const sends = new SendHealth();
  let today = await withFlows(parts.book);
  await records.transaction((tx) => planNow(tx, now()));
  const lookAtClock = clockWatch(parts);

  return {
    async receive(inbound: Inbound): Promise<Reply> {
      const reply = await records.shared((tx) => receiveText(today, tx, inbound), {
        inOrderOf: inbound.from,
        mustNotWait: () => hearWords(inbound.text).danger === 'now',
      });
      parts.wake();
      return reply;
    },
    storedReply: (messageId) => records.read((tx) => tx.storedReply(messageId)),
    async textReported(report) {
      await records.transaction((tx) => takeReport(today, tx, report, now()));
      parts.wake();
    },
    async callTurn(turn) {
      const spoken = await records.transaction((tx) => answerTurn(today, tx, turn, now()));
      parts.wake();
      return spoken;
    },
    async callEnded(report) {
      await records.transaction((tx) => endCall(tx, report, now()));
      parts.wake();
    },
    async calloutDeed(deed) {
      const said = await records.transaction((tx) => actByPage(today, tx, deed, now()));
      parts.wake();
      return said;
    },
    calloutDeedDone: (id) => records.read((tx) => saidOfDeed(tx, id)),
    async swapChosen(chosen) {
      const said = await records.transaction((tx) => changeAsChosen(today, tx, chosen));
      parts.wake();
      return said;
    },
    picture: (asked) => pictureOf(parts, asked),
    message: (asked) => messageOf(parts, asked),
    book: () => today.flows.book,
    hear,
    async callerTurn(turn) {
      const spoken = await records.transaction((tx) => answerCaller(today, tx, turn, now()));
      parts.wake();
      return spoken;
    },
    callerWaits: (waiting) => records.transaction((tx) => callerWaits(today, tx, waiting, now())),
    async callerGone(callId) {
      await records.transaction((tx) => callerGone(today, tx, callId, now()));
      parts.wake();
    },
    safeReply: (inbound) => safeReply(hear, today.flows.book, outfit, inbound.text),
    async alarm(inbound) {
      const { danger } = hear(inbound.text);
      const body =
        `The night desk could not keep a text from ${inbound.from}` +
        `${danger === 'none' ? '' : ', and it sounds like danger'}. Please call them.`;
      const results = await Promise.allSettled(
        parts.alarmPhones.map((to) => carrier.sendText({ to, body, workId: 0 })),
      );
      if (!results.some((result) => result.status === 'fulfilled' && result.value.sent)) {
        throw new Error('nobody could be told of a text that was not handled');
      }
    },
    lookAtClock,
    canSend: () => canSend(today),
    doWork: (work) => doWork(today, work),
    async takeUp(book) {
      today = await withFlows(book);
    },
  };
}
