import nock from 'nock';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { beat } from '../src/heartbeat.ts';

const ADDRESS = 'https://watch.example.com/nightbell';
const noted: string[] = [];
const note = (event: string) => void noted.push(event);

beforeEach(() => {
  noted.length = 0;
  nock.disableNetConnect();
});
afterEach(() => {
  nock.cleanAll();
  nock.enableNetConnect();
});

test('while the desk can send, its address is asked for', async () => {
  const asked = nock('https://watch.example.com').get('/nightbell').reply(200, 'ok');
  expect(await beat({ address: ADDRESS, canSend: async () => true, note })).toBe(true);
  expect(asked.isDone()).toBe(true);
});

test('while it cannot, nothing is asked for, so that whoever watches notices', async () => {
  const asked = nock('https://watch.example.com').get('/nightbell').reply(200, 'ok');
  expect(await beat({ address: ADDRESS, canSend: async () => false, note })).toBe(false);
  expect(asked.isDone()).toBe(false);
  expect(noted).toEqual(['no heartbeat: the desk cannot send']);
});

test.for([
  ['refuses it', 500],
  ['is not there', null],
] as const)('an address that %s ends nothing and is logged', async ([, status]) => {
  const asked = nock('https://watch.example.com').get('/nightbell');
  if (status === null) asked.replyWithError('no route');
  else asked.reply(status, 'no');
  expect(await beat({ address: ADDRESS, canSend: async () => true, note })).toBe(false);
  expect(noted).toHaveLength(1);
});

test('without an address nobody is told, and nothing is wrong', async () => {
  expect(await beat({ address: null, canSend: async () => true, note })).toBe(false);
  expect(noted).toEqual([]);
});
