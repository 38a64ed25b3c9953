import { signatureOf } from './signature.ts';
import type { SignedUnder } from './signature.ts';

const PATH = '/carrier/text';

export interface RawAnswer {
  readonly ok: boolean;
  readonly status: number;
  readonly body: string;
}

/**
 * Posts a form to a desk as the carrier would, signed. The answer is the raw one: TwiML, or a refusal.
 * @param signal gives up when it is aborted
 * @throws what `fetch` does when there is no answer
 */
export async function postSigned(
  base: string,
  under: SignedUnder,
  path: string,
  form: Readonly<Record<string, string>>,
  signal: AbortSignal | null = null,
): Promise<RawAnswer> {
  const response = await fetch(base + path, {
    method: 'POST',
    headers: { 'X-Twilio-Signature': signatureOf(under, path, form) },
    body: new URLSearchParams(form),
    signal,
  });
  return { ok: response.ok, status: response.status, body: await response.text() };
}

/** Sends a guest's text to a desk as the carrier would. */
export function postText(
  base: string,
  under: SignedUnder,
  text: { readonly id: string; readonly from: string; readonly to: string; readonly body: string },
): Promise<RawAnswer> {
  const form = { MessageSid: text.id, From: text.from, To: text.to, Body: text.body, NumMedia: '0' };
  return postSigned(base, under, PATH, form);
}
