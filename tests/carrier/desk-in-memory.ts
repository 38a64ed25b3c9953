import type {
  CallDesk,
  CallReport,
  CallTurn,
  CallerTurn,
  Inbound,
  Reply,
  TextDesk,
  TextReport,
} from '../../src/desk/carrier.ts';

/** A desk that answers every text with its own words back, numbered, and remembers what the carrier's side asked of it. */
export interface DeskInMemory extends TextDesk, CallDesk {
  /** Turns of calls that were asked for, and ends that were reported, as they came. */
  readonly turns: CallTurn[];
  readonly ended: CallReport[];
  /** Turns of calls that came in, and those that were reported as over. */
  readonly callerTurns: CallerTurn[];
  readonly gone: string[];
  /** What is done in place of answering a call, while set. */
  callTrouble: (() => Promise<never>) | null;
  /** Taken texts, each id once. */
  readonly received: Inbound[];
  readonly alarmed: Inbound[];
  readonly reports: TextReport[];
  /** What `receive` does in place of answering, while set. */
  trouble: (() => Promise<Reply>) | null;
  /** What the next text is answered with, while set. */
  says: string | null | undefined;
}

export function deskInMemory(): DeskInMemory {
  const replies = new Map<string, Reply>();
  return {
    turns: [],
    ended: [],
    callerTurns: [],
    gone: [],
    callTrouble: null,
    received: [],
    alarmed: [],
    reports: [],
    trouble: null,
    says: undefined,
    async receive(inbound) {
      if (this.trouble !== null) return this.trouble();
      const before = replies.get(inbound.id);
      if (before !== undefined) return before;
      this.received.push(inbound);
      const text = this.says === undefined ? `reply ${this.received.length} to: ${inbound.text}` : this.says;
      const reply = { text, entryId: text === null ? null : this.received.length };
      replies.set(inbound.id, reply);
      return reply;
    },
    async storedReply(messageId) {
      if (this.trouble !== null) return this.trouble();
      return replies.get(messageId) ?? null;
    },
    async textReported(report) {
      this.reports.push(report);
    },
    safeReply: () => 'If anyone is in danger call 911 now.',
    async callTurn(turn) {
      this.turns.push(turn);
      return { lang: 'en', sentences: [`turn ${turn.turn} of call ${turn.call}`], nextTurn: turn.turn + 1 };
    },
    async callEnded(report) {
      this.ended.push(report);
    },
    async callerTurn(turn) {
      if (this.callTrouble !== null) return this.callTrouble();
      this.callerTurns.push(turn);
      const after = {
        do: 'listen',
        turn: turn.turn + 1,
        lang: 'en',
        hints: ['one, two'],
        keys: 'one',
        patienceS: 8,
      } as const;
      return { sentences: [{ lang: 'en', words: `turn ${turn.turn}` }], after };
    },
    async callerWaits({ turn, count }) {
      if (this.callTrouble !== null) return this.callTrouble();
      const after = { do: 'wait', turn, count: count + 1, pauseS: 10 } as const;
      return { sentences: [{ lang: 'es', words: `count ${count}` }], after };
    },
    async callerGone(callId) {
      this.gone.push(callId);
    },
    async alarm(inbound) {
      this.alarmed.push(inbound);
    },
  };
}
