import { signatureOf } from './signature.ts';
import type { SignedUnder } from './signature.ts';

const PATH = '/carrier/text';

/** Sends a guest's text to a desk as the carrier would, signed. The answer is the raw one: TwiML, or a refusal. */
export async function postText(
  base: string,
  under: SignedUnder,
  text: { readonly id: string; readonly from: string; readonly to: string; readonly body: string },
): Promise<{ readonly ok: boolean; readonly status: number; readonly body: string }> {
  const form = { MessageSid: text.id, From: text.from, To: text.to, Body: text.body, NumMedia: '0' };
  const response = await fetch(base + PATH, {
    method: 'POST',
    headers: { 'X-Twilio-Signature': signatureOf(under, PATH, form) },
    body: new URLSearchParams(form),
  });
  return { ok: response.ok, status: response.status, body: await response.text() };
}
