import { existsSync } from 'node:fs';
import { expect, test } from 'vitest';
import { textsIn } from '../../src/carrier/twiml.ts';
import { staticFallback } from '../../src/carrier/static-fallback.ts';
import { textParts } from '../../src/care/text-parts.ts';
import { deskOnAPort, guestText } from './desk-on-a-port.ts';

test('the fallback gives the reply that was stored for the message', async () => {
  const { post, desk } = await deskOnAPort();
  await post('/carrier/text', guestText('it beeps'));
  desk.receive = () => Promise.reject(new Error('the records take nothing now'));
  const answer = await post('/carrier/fallback', guestText('it beeps', { ErrorCode: '11205' }));
  expect(answer.texts).toEqual(['reply 1 to: it beeps']);
  expect(desk.received).toHaveLength(1);
});

test('the fallback takes a text that never arrived the first time', async () => {
  const { post, desk } = await deskOnAPort();
  expect((await post('/carrier/fallback', guestText('it beeps'))).texts).toEqual(['reply 1 to: it beeps']);
  expect(desk.received).toHaveLength(1);
});

test('the fallback still takes the text when only the stored reply cannot be read', async () => {
  const { post, desk } = await deskOnAPort();
  desk.storedReply = () => Promise.reject(new Error('read connection lost'));
  expect((await post('/carrier/fallback', guestText('it beeps'))).texts).toEqual(['reply 1 to: it beeps']);
});

test('the fallback with the records down gives the safe reply and keeps the text', async () => {
  const { post, desk, spoolFile } = await deskOnAPort();
  desk.trouble = () => Promise.reject(new Error('records down'));
  const answer = await post('/carrier/fallback', guestText('he is blue'));
  expect([answer.status, answer.texts]).toEqual([200, ['If anyone is in danger call 911 now.']]);
  expect(desk.alarmed).toHaveLength(1);
  expect(existsSync(spoolFile)).toBe(true);
});

test.for([
  ['queued', 'waiting'],
  ['sending', 'waiting'],
  ['sent', 'handed-on'],
  ['delivered', 'arrived'],
  ['read', 'arrived'],
  ['failed', 'lost'],
  ['undelivered', 'lost'],
] as const)('a report that the reply is "%s" reaches the desk as %s', async ([status, state]) => {
  const { post, desk } = await deskOnAPort();
  const answer = await post('/carrier/text-status?reply=7', { MessageSid: 'SM9', MessageStatus: status });
  expect(answer.status).toBe(204);
  expect(desk.reports).toEqual([{ about: { reply: 7 }, state, optedOut: false }]);
});

test('a word that no document knew is taken without complaint, and says nothing about the text', async () => {
  const { post, desk, log } = await deskOnAPort();
  const answer = await post('/carrier/text-status?reply=7', { MessageStatus: 'a word of next year' });
  expect([answer.status, desk.reports]).toEqual([204, []]);
  expect(log()).toContain('a word of next year');
});

test('a report on a text sent as work says which, and whether the phone wants no texts', async () => {
  const { post, desk } = await deskOnAPort();
  const report = (ErrorCode: string) =>
    post('/carrier/text-status?work=3', { MessageSid: 'SM9', MessageStatus: 'failed', ErrorCode });
  expect([(await report('30003')).status, (await report('21610')).status]).toEqual([204, 204]);
  expect(desk.reports).toEqual([
    { about: { work: 3 }, state: 'lost', optedOut: false },
    { about: { work: 3 }, state: 'lost', optedOut: true },
  ]);
});

test.for(['', '?reply=', '?reply=abc', '?reply=-1', '?reply=1&reply=2'])(
  'a report about "%s" is 400',
  async (query) => {
    const { post, desk } = await deskOnAPort();
    expect((await post(`/carrier/text-status${query}`, { MessageStatus: 'sent' })).status).toBe(400);
    expect(desk.reports).toEqual([]);
  },
);

test('a report that the desk cannot take is 500, and tells the client nothing of the inside', async () => {
  const { post, desk, log } = await deskOnAPort();
  desk.textReported = () => Promise.reject(new Error('records down at /srv/secret'));
  const answer = await post('/carrier/text-status?reply=7', { MessageStatus: 'delivered' });
  expect([answer.status, answer.body]).toEqual([500, 'Something went wrong here.\n']);
  expect(log()).toContain('records down');
});

test('the static fallback names the emergency number first and then a person, in at most two text parts', () => {
  const facts = { outfitName: 'Ptarmigan & Sons', emergencyNumber: '911', directPhone: '+19705550102' };
  const { text, voice } = staticFallback(facts);
  const [words = ''] = textsIn(text);
  expect(words).toMatch(/^Ptarmigan & Sons: .*call 911 now.*\(970\) 555-0102/);
  expect(textParts(words).parts).toBeLessThanOrEqual(2);
  expect(voice).toMatch(/9 1 1 now.*<Dial[^>]*>\+19705550102<\/Dial>.*9 1 1/);
});
