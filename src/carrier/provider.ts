import type { Logger } from 'pino';
import type { Twilio } from 'twilio';
import type { Carrier, OutboundText, Sent } from '../desk/carrier.ts';
import { failureOf } from './failure.ts';
import { maskedPhone } from './phone.ts';
import { printable } from './printable.ts';
import { finalReason } from './provider-codes.ts';
import { STATUS_PATH } from './twiml.ts';

export interface ProviderAccount {
  readonly account: string;
  readonly token: string;
  /** The desk's number, E.164. */
  readonly from: string;
  readonly publicUrl: string;
}

/** The client's own default, 30 seconds, would let one dead connection hold up a callout. */
const TIMEOUT_MS = 10_000;

/**
 * Sends through the carrier's REST interface. Never throws for what the carrier answers: a refusal, a timeout or no
 * network is a `Sent` that says so. After a timeout or an answer of 5xx the text may have been sent all the same.
 */
export function providerCarrier(provider: ProviderAccount, log: Logger, timeoutMs: number = TIMEOUT_MS): Carrier {
  let client: Promise<Twilio> | null = null;
  /** Loaded with the first text that is sent: it costs 200 ms and 35 MB. */
  async function load(): Promise<Twilio> {
    const { Twilio } = (await import('twilio')).default;
    return new Twilio(provider.account, provider.token, { timeout: timeoutMs, autoRetry: false });
  }

  function refused(error: unknown, text: OutboundText): Sent {
    const basic = Buffer.from(`${provider.account}:${provider.token}`).toString('base64');
    const failure = failureOf(error, [text.body, printable(text.body), provider.token, basic]);
    const reason = finalReason(Number(failure.code));
    const about = { workId: text.workId, to: maskedPhone(text.to), failure, final: reason !== null, reason };
    log.error(about, 'the carrier did not take a text');
    return { sent: false, final: reason !== null, code: failure.code ?? `HTTP ${failure.status ?? 'without status'}` };
  }

  return {
    reportsDelivery: true,
    async sendText(text) {
      try {
        client ??= load();
        const { messages } = await client;
        const { sid } = await messages.create({
          to: text.to,
          from: provider.from,
          body: printable(text.body),
          statusCallback: `${provider.publicUrl}${STATUS_PATH}?work=${text.workId}`,
        });
        log.info({ workId: text.workId, to: maskedPhone(text.to), providerId: sid }, 'the carrier took a text');
        return { sent: true, providerId: sid };
      } catch (error) {
        return refused(error, text);
      }
    },
  };
}
