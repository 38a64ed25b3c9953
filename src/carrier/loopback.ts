import type { Logger } from 'pino';
import type { Carrier, OutboundCall, OutboundText } from '../desk/carrier.ts';
import { maskedPhone } from './phone.ts';

/** The demo's carrier: texts go nowhere but to those who listen, such as the terminal. */
export interface Loopback extends Carrier {
  /** What was sent lately, oldest first. */
  readonly sent: readonly OutboundText[];
  /** Calls the listener with each text from now on, until the returned function is called. */
  onText(listener: (text: OutboundText) => void): () => void;
  /** The same for each call that is placed. It rings until someone at the listener's end answers it. */
  onCall(listener: (call: OutboundCall) => void): () => void;
}

/** How many sent texts are remembered: a demo left running must not grow. */
const REMEMBERED = 1_000;

/** A carrier that takes every text and every call. */
export function loopbackCarrier(log: Logger): Loopback {
  const sent: OutboundText[] = [];
  const listeners = new Set<(text: OutboundText) => void>();
  const callListeners = new Set<(call: OutboundCall) => void>();
  return {
    reportsDelivery: false,
    sent,
    onText(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    onCall(listener) {
      callListeners.add(listener);
      return () => callListeners.delete(listener);
    },
    placeCall(call) {
      log.info({ workId: call.workId, to: maskedPhone(call.to) }, 'the loopback carrier rings a phone');
      for (const listener of callListeners) listener(call);
      return Promise.resolve({ sent: true, providerId: `loopback-${call.workId}` });
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
