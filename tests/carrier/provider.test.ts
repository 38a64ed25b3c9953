import nock from 'nock';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { providerCarrier } from '../../src/carrier/provider.ts';
import { logInMemory } from './desk-on-a-port.ts';

const ACCOUNT = `AC${'1'.repeat(32)}`;
const PROVIDER = {
  account: ACCOUNT,
  token: '0123456789abcdef0123456789abcdef',
  from: '+19705550100',
  publicUrl: 'https://desk.example.com',
};
const BASIC = Buffer.from(`${ACCOUNT}:${PROVIDER.token}`).toString('base64');
const TEXT = { to: '+19705550123', body: 'The hose was\u0000 off', workId: 12 };

const messages = (): nock.Interceptor =>
  nock('https://api.twilio.com').post(`/2010-04-01/Accounts/${ACCOUNT}/Messages.json`);

beforeEach(() => nock.disableNetConnect());
afterEach(() => {
  nock.cleanAll();
  nock.enableNetConnect();
});

/** Sends one text, and checks that the log of it holds neither credentials, nor the number, nor the words. */
async function send(text = TEXT, timeoutMs?: number) {
  const { log, written } = logInMemory();
  const sent = await providerCarrier(PROVIDER, log, timeoutMs).sendText(text);
  for (const kept of [PROVIDER.token, BASIC, '9705550123', 'hose']) expect(written()).not.toContain(kept);
  return { sent, log: written() };
}

test('a text is handed over with the desk’s number and an address for reports that names the work', async () => {
  let form = new URLSearchParams();
  nock('https://api.twilio.com', { reqheaders: { authorization: `Basic ${BASIC}` } })
    .post(`/2010-04-01/Accounts/${ACCOUNT}/Messages.json`, (body: Record<string, string>) => {
      form = new URLSearchParams(body);
      return true;
    })
    .reply(201, { sid: 'SM42', status: 'queued' });
  const { sent, log } = await send();
  expect(sent).toEqual({ sent: true, providerId: 'SM42' });
  expect(Object.fromEntries(form)).toEqual({
    To: '+19705550123',
    From: '+19705550100',
    Body: 'The hose was off',
    StatusCallback: 'https://desk.example.com/carrier/text-status?work=12',
  });
  expect(log).toContain('…0123');
});

test.for([
  [400, 21610, true],
  [400, 21211, true],
  [400, 21614, true],
  [400, 30006, true],
  [400, 30003, false],
  [400, 30008, false],
  [429, 20429, false],
  [400, 21606, false],
  [400, 99999, false],
  [401, 20003, false],
] as const)('refused with %i and code %i, final: %s', async ([status, code, final]) => {
  messages().reply(status, { code, message: `To +19705550123 "The hose was off": no`, status });
  const { sent, log } = await send();
  expect(sent).toMatchObject({ sent: false, final, code: String(code) });
  expect(sent).not.toHaveProperty('maybe');
  expect('optedOut' in sent).toBe(code === 21610);
  expect(log).toContain(`"code":"${code}"`);
});

test.for([500, 502, 503])('an answer of %i, with a page in place of JSON, may have been taken', async (status) => {
  messages().reply(status, '<html>The hose was off</html>');
  expect((await send()).sent).toEqual({ sent: false, final: false, code: `HTTP ${status}`, maybe: true });
});

test('a carrier that does not answer in time may have taken the text', async () => {
  messages().delay(60_000).reply(201, { sid: 'SM42' });
  expect((await send(TEXT, 20)).sent).toEqual({
    sent: false,
    final: false,
    code: 'ECONNABORTED',
    maybe: true,
  });
});

test('no network took nothing, and is worth another try', async () => {
  messages().replyWithError(Object.assign(new Error(`connect to 10.0.0.1 with ${BASIC}`), { code: 'ECONNREFUSED' }));
  expect((await send()).sent).toEqual({ sent: false, final: false, code: 'ECONNREFUSED' });
});

test('after a failure the next text goes through', async () => {
  messages().reply(500, 'no').post(/./).reply(201, { sid: 'SM43' });
  const carrier = providerCarrier(PROVIDER, logInMemory().log);
  expect((await carrier.sendText(TEXT)).sent).toBe(false);
  expect(await carrier.sendText(TEXT)).toEqual({ sent: true, providerId: 'SM43' });
});

test.for([
  [200, { sid: ACCOUNT, status: 'active' }, true],
  [200, { sid: ACCOUNT, status: 'suspended' }, false],
  [401, { code: 20003, message: 'no', status: 401 }, false],
  [503, {}, false],
] as const)('asked whether it answers for this account, %i %o means %s', async ([status, body, reachable]) => {
  nock('https://api.twilio.com').get(`/2010-04-01/Accounts/${ACCOUNT}.json`).reply(status, body);
  const { log, written } = logInMemory();
  expect(await providerCarrier(PROVIDER, log).reachable?.()).toBe(reachable);
  expect(written()).not.toContain(PROVIDER.token);
});
