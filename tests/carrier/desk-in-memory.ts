import type { Inbound, Reply, TextDesk } from '../../src/desk/carrier.ts';

/** A desk that answers every text with its own words back, numbered, and remembers what the carrier's side asked of it. */
export interface DeskInMemory extends TextDesk {
  /** Taken texts, each id once. */
  readonly received: Inbound[];
  readonly alarmed: Inbound[];
  readonly handedOn: number[];
  readonly confirmed: number[];
  readonly failed: number[];
  readonly failedTexts: number[];
  /** What `receive` does in place of answering, while set. */
  trouble: (() => Promise<Reply>) | null;
  /** What the next text is answered with, while set. */
  says: string | null | undefined;
}

export function deskInMemory(): DeskInMemory {
  const replies = new Map<string, Reply>();
  return {
    received: [],
    alarmed: [],
    handedOn: [],
    confirmed: [],
    failed: [],
    failedTexts: [],
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
    async replySent(entryId) {
      this.handedOn.push(entryId);
    },
    async replyConfirmed(entryId) {
      this.confirmed.push(entryId);
    },
    async replyFailed(entryId) {
      this.failed.push(entryId);
    },
    async textFailed(workId) {
      this.failedTexts.push(workId);
    },
    safeReply: () => 'If anyone is in danger call 911 now.',
    async alarm(inbound) {
      this.alarmed.push(inbound);
    },
  };
}
