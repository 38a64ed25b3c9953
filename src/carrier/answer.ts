import type { Logger } from 'pino';
import type { Inbound, Reply, TextDesk } from '../desk/carrier.ts';
import type { Instant } from '../time/instant.ts';
import { failureOf } from './failure.ts';
import { maskedPhone } from './phone.ts';
import type { Spool } from './spool.ts';
import { withinMs } from './within.ts';

export interface Answering {
  readonly desk: TextDesk;
  readonly spool: Spool;
  readonly log: Logger;
  readonly now: () => Instant;
  /** How long the desk may take. The carrier gives up after 15 seconds, and the rest must fit in as well. */
  readonly answerWithinMs: number;
  /** Told of each text, once its answer is known: how it ended, and after how many seconds. */
  readonly onAnswered?: ((outcome: 'answered' | 'silent' | 'failed', seconds: number) => void) | undefined;
}

/**
 * Answers a genuine text whatever happens: with the reply that `take` gets from the desk; or, when that fails, by
 * alarming people, keeping the form in the spool, and giving the safe reply. Never throws for what the desk's records
 * or the disk do.
 */
export async function answerText(
  inbound: Inbound,
  form: unknown,
  answering: Answering,
  take: (inbound: Inbound) => Promise<Reply>,
): Promise<Reply> {
  const { desk, spool, log, now } = answering;
  const about = { messageId: inbound.id, from: maskedPhone(inbound.from) };
  const hidden = [inbound.text, inbound.from];
  const began = performance.now();
  const tell = (outcome: 'answered' | 'silent' | 'failed'): void => {
    const seconds = (performance.now() - began) / 1000;
    answering.onAnswered?.(outcome, seconds);
    if (outcome !== 'failed') log.info({ ...about, outcome, ms: Math.round(seconds * 1000) }, 'a text was answered');
  };
  try {
    const reply = await withinMs(answering.answerWithinMs, take(inbound));
    tell(reply.text === null ? 'silent' : 'answered');
    return reply;
  } catch (error) {
    tell('failed');
    log.error(
      { ...about, failure: failureOf(error, hidden) },
      'a text could not be handled; the guest gets the safe reply',
    );
  }

  async function tellPeople(): Promise<void> {
    try {
      await desk.alarm(inbound);
    } catch (error) {
      log.fatal({ ...about, failure: failureOf(error, hidden) }, 'nobody could be told that a text was not handled');
    }
  }
  // Not awaited: placing the alarm may take longer than the carrier waits for the guest's answer.
  void tellPeople();
  try {
    await spool.append(form, now());
  } catch (error) {
    log.fatal(
      { ...about, failure: failureOf(error, hidden) },
      'a text could be kept neither in the records nor in the spool',
    );
  }
  return { text: desk.safeReply(inbound), entryId: null };
}
