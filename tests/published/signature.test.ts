import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import express from 'express';
import { pino } from 'pino';
import { expect, onTestFinished, test } from 'vitest';
import { requireSignature, signatureOf } from '../../src/carrier/signature.ts';

// The provider's own worked example of a signed form, as its documentation and helper libraries carry it; read at
// gist.github.com/ryanwinchester/ab49855e9acb7352507b8fa92ffe69d0 and computed anew by hand.
const EXAMPLE = {
  token: '12345',
  publicUrl: 'https://mycompany.com',
  path: '/myapp.php?foo=1&bar=2',
  form: {
    CallSid: 'CA1234567890ABCDE',
    Caller: '+12349013030',
    Digits: '1234',
    From: '+12349013030',
    To: '+18005551212',
  },
  signature: '0/KCTR6DLpKmkAf8muzZqo1nDgQ=',
};
// The same example with the number that the provider's helper libraries test themselves with (from memory).
const LIBRARY_EXAMPLE = { number: '+14158675309', signature: 'RSOYDt4T1cUTdK1PDd93/VVr8B8=' };

/** Posts the example to a server behind the check, listening somewhere else than the address that was signed. */
async function statusOf(signature: string, form: Record<string, string>, path = EXAMPLE.path): Promise<number> {
  const app = express();
  const check = requireSignature(EXAMPLE, pino({ level: 'silent' }));
  app.post('/myapp.php', express.urlencoded({ extended: false }), check, (_request, response) => {
    response.status(204).end();
  });
  const server = app.listen(0, '127.0.0.1');
  onTestFinished(() => void server.close());
  await once(server, 'listening');
  const response = await fetch(`http://127.0.0.1:${(server.address() as AddressInfo).port}${path}`, {
    method: 'POST',
    headers: { 'X-Twilio-Signature': signature },
    body: new URLSearchParams(form),
  });
  return response.status;
}

test('the published example passes the check that stands before the carrier’s routes', async () => {
  expect(await statusOf(EXAMPLE.signature, EXAMPLE.form)).toBe(204);
  const form = { ...EXAMPLE.form, From: LIBRARY_EXAMPLE.number, Caller: LIBRARY_EXAMPLE.number };
  expect(await statusOf(LIBRARY_EXAMPLE.signature, form)).toBe(204);
});

test('the published example with anything changed is refused', async () => {
  expect(await statusOf(LIBRARY_EXAMPLE.signature, EXAMPLE.form)).toBe(403);
  expect(await statusOf(EXAMPLE.signature, { ...EXAMPLE.form, Digits: '1235' })).toBe(403);
  expect(await statusOf(EXAMPLE.signature, { ...EXAMPLE.form, Extra: '' })).toBe(403);
  expect(await statusOf(EXAMPLE.signature, EXAMPLE.form, '/myapp.php?foo=1&bar=3')).toBe(403);
});

test('our own signing gives the published signature', () => {
  expect(signatureOf(EXAMPLE, EXAMPLE.path, EXAMPLE.form)).toBe(EXAMPLE.signature);
});
