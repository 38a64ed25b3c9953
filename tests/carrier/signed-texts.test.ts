import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { request } from 'node:http';
import type { IncomingMessage } from 'node:http';
import { expect, test } from 'vitest';
import { deskOnAPort, guestText } from './desk-on-a-port.ts';

test('a signed text is answered in the response, with an address for delivery reports', async () => {
  const { post, desk } = await deskOnAPort();
  const answer = await post('/carrier/text', guestText('it beeps & <hums>'));
  expect(answer.status).toBe(200);
  expect(answer.texts).toEqual(['reply 1 to: it beeps & <hums>']);
  expect(answer.body).toContain('action="https://desk.example.com/carrier/text-status?reply=1"');
  expect(desk.received).toEqual([
    { id: 'SM1', from: '+19705550123', to: '+19705550100', text: 'it beeps & <hums>', media: [] },
  ]);
});

test('the same message id again gets the same reply and is taken once', async () => {
  const { post, desk } = await deskOnAPort();
  const both = await Promise.all([
    post('/carrier/text', guestText('it beeps')),
    post('/carrier/text', guestText('it beeps')),
  ]);
  expect(both.map((answer) => answer.texts)).toEqual([['reply 1 to: it beeps'], ['reply 1 to: it beeps']]);
  expect(desk.received).toHaveLength(1);
});

test('a text that needs no reply gets an empty response', async () => {
  const { post, desk } = await deskOnAPort();
  desk.says = null;
  const answer = await post('/carrier/text', guestText('STOP'));
  expect(answer.status).toBe(200);
  expect(answer.body).toMatch(/<Response\/>$/);
});

test.for([
  ['with another token', { signedAs: { token: 'forged' } }],
  ['for another address', { signedAs: { publicUrl: 'https://elsewhere.example.com' } }],
  ['for another path', { signedAs: { path: '/carrier/fallback' } }],
  ['not at all', { unsigned: true }],
  ['with an empty signature', { headers: { 'X-Twilio-Signature': '' } }],
  ['for another form', { rawBody: new URLSearchParams(guestText('changed on the way')).toString() }],
  ['as something else than a form', { headers: { 'Content-Type': 'application/json' }, rawBody: '{"Body":"x"}' }],
] as const)('a text signed %s is refused, and nothing of it reaches the desk or the disk', async ([, how]) => {
  const { post, desk, spoolFile } = await deskOnAPort();
  desk.trouble = () => Promise.reject(new Error('must not be asked'));
  const answer = await post('/carrier/text', guestText('let me in'), how);
  expect(answer.status).toBe(403);
  expect(desk.received).toEqual([]);
  expect(desk.alarmed).toEqual([]);
  expect(existsSync(spoolFile)).toBe(false);
});

test.for(['/carrier/text', '/carrier/fallback', '/carrier/text-status?reply=1'])(
  'a forged form to %s is refused',
  async (path) => {
    const { post, desk } = await deskOnAPort();
    const form = { ...guestText('x'), MessageStatus: 'delivered' };
    expect((await post(path, form, { signedAs: { token: 'forged' } })).status).toBe(403);
    expect([...desk.received, ...desk.reports]).toEqual([]);
  },
);

test.for([
  ['X-Forwarded-Host', 'elsewhere.example.com'],
  ['X-Forwarded-Proto', 'http'],
  ['X-Original-URL', '/carrier/fallback'],
  ['X-Rewrite-URL', '/carrier/fallback'],
  ['X-Forwarded-Prefix', '/elsewhere'],
  ['X-HTTP-Method-Override', 'GET'],
  ['Forwarded', 'host=elsewhere.example.com;proto=http'],
] as const)('%s changes nothing about what a signature is checked over', async ([name, value]) => {
  const { post } = await deskOnAPort();
  const tricked = { headers: { [name]: value } };
  expect((await post('/carrier/text', guestText('genuine'), tricked)).status).toBe(200);
  const forged = { ...tricked, signedAs: { publicUrl: 'https://elsewhere.example.com' } };
  expect((await post('/carrier/text', guestText('forged'), forged)).status).toBe(403);
});

test('a request line with a whole address is refused, not signed for', async () => {
  const { here } = await deskOnAPort({ publicUrl: 'http://localhost:2020' });
  const asked = request(here, { method: 'POST', path: 'http://elsewhere.example.com/carrier/text' });
  const [response] = (await once(asked.end(), 'response')) as [IncomingMessage];
  expect(response.resume().statusCode).toBe(403);
});

test.for(['not-a-phone', '', '+1', '12', '+1970555012', '12345678', '+19705550123;ext=4', 'call me at 9705550123'])(
  'a text from "%s" is no text from a phone: 400, and nothing is received',
  async (from) => {
    const { post, desk } = await deskOnAPort();
    expect((await post('/carrier/text', guestText('hello', { From: from }))).status).toBe(400);
    expect(desk.received).toEqual([]);
  },
);

test.for(['12345', '789', 'LIFTPASS', 'Lift Pass 2'])(
  'a text from %s, a machine, is met with silence and not received',
  async (from) => {
    const { post, desk } = await deskOnAPort();
    const answer = await post('/carrier/text', guestText('Your code is 4711', { From: from }));
    expect([answer.status, answer.texts]).toEqual([200, []]);
    expect(desk.received).toEqual([]);
  },
);

test('a form without a message id is refused with what is allowed, and without the words of the guest', async () => {
  const { post, desk, log } = await deskOnAPort();
  const answer = await post('/carrier/text', guestText('my secret words', { MessageSid: '' }));
  expect(answer.status).toBe(400);
  expect(answer.body).toContain('MessageSid');
  expect(desk.received).toEqual([]);
  expect(log()).not.toMatch(/secret|19705550123/);
});

test('a field given twice is refused, not guessed at', async () => {
  const { post, desk } = await deskOnAPort();
  const form = { ...guestText('x'), From: ['+19705550123', '+19705550124'] } as unknown as Record<string, string>;
  const rawBody = 'MessageSid=SM1&From=%2B19705550123&From=%2B19705550124&To=%2B19705550100&Body=x&NumMedia=0';
  expect((await post('/carrier/text', form, { rawBody })).status).toBe(400);
  expect(desk.received).toEqual([]);
});

test('an oversized form is 413 and nothing is received; the longest text there is, in emoji, is answered', async () => {
  const { post, desk } = await deskOnAPort();
  expect((await post('/carrier/text', guestText('x'.repeat(70_000)))).status).toBe(413);
  expect(desk.received).toEqual([]);
  expect((await post('/carrier/text', guestText('😮'.repeat(800)))).texts).toEqual([`reply 1 to: ${'😮'.repeat(800)}`]);
});

test('control characters reach neither the desk nor the phone, and line ends do', async () => {
  const { post, desk } = await deskOnAPort();
  desk.says = 'one\u0000\u0008\ntwo\u000b\u001b[31m\ud83d three\uffff';
  const answer = await post('/carrier/text', guestText('a\u0000b\u0007\nc'));
  expect(desk.received[0]?.text).toBe('ab\nc');
  expect(answer.texts).toEqual(['one\ntwo[31m\ufffd three']);
});

test.for(['', ' ', '😮', 'م'.repeat(300), 'x'.repeat(1_600), '\u202eabc', '\u0001'])(
  'an odd text (%j) is passed on and answered',
  async (body) => {
    const { post, desk } = await deskOnAPort();
    expect((await post('/carrier/text', guestText(body))).status).toBe(200);
    expect(desk.received).toHaveLength(1);
  },
);

test('pictures are passed on as addresses, and a miscounted one costs no answer', async () => {
  const { post, desk } = await deskOnAPort();
  const picture = 'https://pictures.example.com/1.jpg';
  await post(
    '/carrier/text',
    guestText('look', { NumMedia: '2', MediaUrl0: picture, MediaUrl1: 'javascript:alert(1)' }),
  );
  await post('/carrier/text', guestText('look', { MessageSid: 'SM2', NumMedia: 'many', MediaUrl0: picture }));
  expect(desk.received.map((inbound) => inbound.media)).toEqual([[picture], []]);
});

test('a keyword of the account, whatever its word, is passed on as what the carrier took it for', async () => {
  const { post, desk } = await deskOnAPort();
  await post('/carrier/text', guestText('genug', { OptOutType: 'STOP' }));
  await post('/carrier/text', guestText('genug', { MessageSid: 'SM2', OptOutType: 'a kind of next year' }));
  expect(desk.received.map((inbound) => inbound.optOut)).toEqual(['stop', undefined]);
});

test('what is not there is 404', async () => {
  const real = await deskOnAPort();
  expect((await real.get('/')).status).toBe(404);
  expect((await real.get('/carrier/text')).status).toBe(404);
  expect((await real.get('/healthz')).body).toBe('ok\n');
});
