import type { RequestHandler } from 'express';
import type { Logger } from 'pino';
import webhooks from 'twilio/lib/webhooks/webhooks.js';

/** What signatures are checked with: the carrier's token and the address under which the carrier knows this desk. */
export interface SignedUnder {
  readonly token: string;
  /** Without a slash at its end: "https://desk.example.com". */
  readonly publicUrl: string;
}

export type Form = Readonly<Record<string, unknown>>;

/** Whether the carrier signed this form for this path and query, under the public address. Compares in constant time. */
export function isSigned(under: SignedUnder, pathAndQuery: string, form: Form, signature: string): boolean {
  // A request line may hold a whole address ("POST http://elsewhere/"): that is no path of ours.
  if (!pathAndQuery.startsWith('/')) return false;
  return webhooks.validateRequest(under.token, signature, under.publicUrl + pathAndQuery, form);
}

/** Signs a form as the carrier does, for trying the desk without a carrier. */
export function signatureOf(under: SignedUnder, pathAndQuery: string, form: Form): string {
  return webhooks.getExpectedTwilioSignature(under.token, under.publicUrl + pathAndQuery, form);
}

/**
 * Lets only signed forms through, and answers 403 otherwise; runs after the form is parsed and before anything looks at
 * it. The address is the one from the settings, never one from the request: behind a proxy the request's own is not
 * what was signed, and what a stranger writes into forwarding headers must not count.
 */
export function requireSignature(under: SignedUnder, log: Logger): RequestHandler {
  return (request, response, next) => {
    const form: Form = (request.body as Form | undefined) ?? {};
    if (isSigned(under, request.originalUrl, form, request.get('X-Twilio-Signature') ?? '')) return next();
    log.warn(
      { path: request.path, signed: request.get('X-Twilio-Signature') !== undefined },
      'refused a form whose signature is missing or wrong; if it came from the carrier, compare PUBLIC_URL with the address set there, and CARRIER_TOKEN',
    );
    response.status(403).type('text/plain').send('The signature is missing or does not fit.\n');
  };
}
