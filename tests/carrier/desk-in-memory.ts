import type { CallDesk, CallReport, CallTurn, Inbound, Reply, TextDesk, TextReport } from '../../src/desk/carrier.ts';

/** A desk that answers every text with its own words back, numbered, and remembers what the carrier's side asked of it. */
export interface DeskInMemory extends TextDesk, CallDesk {
  /** Turns of calls that were asked for, and ends that were reported, as they came. */
  readonly turns: CallTurn[];
  readonly ended: CallReport[];
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
    async alarm(inbound) {
      this.alarmed.push(inbound);
    },
  };
}
