import type { Logger } from 'pino';
import type { Twilio } from 'twilio';
import type { Carrier, OutboundCall, OutboundText, Sent } from '../desk/carrier.ts';
import { failureOf } from './failure.ts';
import type { Failure } from './failure.ts';
import { maskedPhone } from './phone.ts';
import { printable } from './printable.ts';
import { fetchMedia } from './media.ts';
import { OPTED_OUT, meaningOf } from './provider-codes.ts';
import { CALL_STATUS_PATH, turnAddress } from './call-twiml.ts';
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

/** Seconds a phone rings: longer, and in most networks the voicemail answers. */
const RING_FOR_S = 25;

/** The request was under way when it failed: nobody knows whether the carrier acted on it. */
const CUT_OFF: ReadonlySet<string> = new Set(['ECONNABORTED', 'ECONNRESET', 'EPIPE', 'ETIMEDOUT']);

function mayHaveBeenTaken({ code, status }: Failure): boolean {
  return (status !== null && status >= 500) || (code !== null && CUT_OFF.has(code));
}

/**
 * Sends through the carrier's REST interface. Never throws for what the carrier answers: a refusal, a timeout or no
 * network is a `Sent` that says so.
 */
export function providerCarrier(provider: ProviderAccount, log: Logger, timeoutMs: number = TIMEOUT_MS): Carrier {
  let client: Promise<Twilio> | null = null;
  /** Loaded with the first text that is sent: it costs 200 ms and 35 MB. */
  async function load(): Promise<Twilio> {
    const { Twilio } = (await import('twilio')).default;
    return new Twilio(provider.account, provider.token, { timeout: timeoutMs, autoRetry: false });
  }

  function refused(error: unknown, what: OutboundText | OutboundCall): Sent {
    const basic = Buffer.from(`${provider.account}:${provider.token}`).toString('base64');
    const words = 'body' in what ? what.body : what.opening;
    const failure = failureOf(error, [words, printable(words), provider.token, basic]);
    const { final, reason } = meaningOf(Number(failure.code));
    log.error(
      { workId: what.workId, to: maskedPhone(what.to), failure, final, reason },
      `the carrier did not take a ${'body' in what ? 'text' : 'call'}`,
    );
    return {
      sent: false,
      final,
      code: failure.code ?? `HTTP ${failure.status ?? 'without status'}`,
      ...(mayHaveBeenTaken(failure) ? { maybe: true } : {}),
      ...(Number(failure.code) === OPTED_OUT ? { optedOut: true } : {}),
    };
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
    async placeCall(call) {
      try {
        client ??= load();
        const { calls } = await client;
        const { sid } = await calls.create({
          to: call.to,
          from: provider.from,
          url: turnAddress(provider.publicUrl, call.workId, 0),
          method: 'POST',
          statusCallback: `${provider.publicUrl}${CALL_STATUS_PATH}?call=${call.workId}`,
          statusCallbackMethod: 'POST',
          // The end of a call in whatever way; what comes before it is of no interest here.
          statusCallbackEvent: ['completed'],
          machineDetection: 'Enable',
          timeout: RING_FOR_S,
        });
        log.info({ workId: call.workId, to: maskedPhone(call.to), providerId: sid }, 'the carrier took a call');
        return { sent: true, providerId: sid };
      } catch (error) {
        return refused(error, call);
      }
    },
    fetchMedia: (reference, what) => fetchMedia(provider, { reference, what }, log, timeoutMs),
    async reachable() {
      try {
        client ??= load();
        const { status } = await (await client).api.v2010.accounts(provider.account).fetch();
        return status === 'active';
      } catch (error) {
        log.warn({ failure: failureOf(error, [provider.token]) }, 'the carrier does not answer for this account');
        return false;
      }
    },
  };
}
