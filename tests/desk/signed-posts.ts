import { expect } from 'vitest';
import { signatureOf } from '../../src/carrier/signature.ts';
import { textsIn } from '../../src/carrier/twiml.ts';
import type { Form } from '../carrier/desk-on-a-port.ts';

/** What the carrier of these tests signs with. */
export const SIGNED_UNDER = { token: 'fedcba9876543210fedcba9876543210', publicUrl: 'https://desk.example.com' };

/** Posts a signed form as the carrier would. Gives the texts of the answer, and the whole of it. */
export async function postSigned(
  here: string,
  path: string,
  form: Form,
): Promise<{ readonly texts: readonly string[]; readonly body: string }> {
  const response = await fetch(here + path, {
    method: 'POST',
    headers: { 'X-Twilio-Signature': signatureOf(SIGNED_UNDER, path, form) },
    body: new URLSearchParams(form),
  });
  const body = await response.text();
  expect(response.ok, `${path} answered ${response.status}: ${body}`).toBe(true);
  return { body, texts: response.headers.get('content-type')?.startsWith('text/xml') ? textsIn(body) : [] };
}
