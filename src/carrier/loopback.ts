import type { Logger } from 'pino';
import type { Carrier, OutboundText } from '../desk/carrier.ts';
import { maskedPhone } from './phone.ts';

/** The demo's carrier: texts go nowhere but to those who listen, such as the terminal. */
export interface Loopback extends Carrier {
  /** What was sent lately, oldest first. */
  readonly sent: readonly OutboundText[];
  /** Calls the listener with each text from now on, until the returned function is called. */
  onText(listener: (text: OutboundText) => void): () => void;
}

/** How many sent texts are remembered: a demo left running must not grow. */
const REMEMBERED = 1_000;

/** A carrier that takes every text. */
export function loopbackCarrier(log: Logger): Loopback {
  const sent: OutboundText[] = [];
  const listeners = new Set<(text: OutboundText) => void>();
  return {
    reportsDelivery: false,
    sent,
    onText(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    sendText(text) {
      sent.push(text);
      if (sent.length > REMEMBERED) sent.shift();
      log.info({ workId: text.workId, to: maskedPhone(text.to) }, 'the loopback carrier took a text');
      for (const listener of listeners) listener(text);
      return Promise.resolve({ sent: true, providerId: `loopback-${text.workId}` });
    },
  };
}
