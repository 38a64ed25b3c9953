import { readFile, stat, writeFile } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openSpool } from '../../src/carrier/spool.ts';
import { instantOf } from '../../src/time/instant.ts';
import { deskInMemory } from './desk-in-memory.ts';
import { deskOnAPort, guestText, logInMemory, ownFolder } from './desk-on-a-port.ts';

const AT = instantOf('2026-11-25T09:10:00Z');
const SAFE = ['If anyone is in danger call 911 now.'];
const recordsDown = (): Promise<never> =>
  Promise.reject(Object.assign(new Error('no write for "he is blue" of +19705550123'), { code: 'SQLITE_READONLY' }));

test('when the records fail the guest gets the safe reply, people are alarmed, and the text is on the disk', async () => {
  const { post, desk, spoolFile } = await deskOnAPort();
  desk.trouble = recordsDown;
  const answer = await post('/carrier/text', guestText('he is blue'));
  expect([answer.status, answer.texts]).toEqual([200, SAFE]);
  expect(desk.alarmed.map((inbound) => inbound.id)).toEqual(['SM1']);
  const lines = (await readFile(spoolFile, 'utf8')).split('\n');
  expect(lines.map((line) => JSON.parse(line).form)).toEqual([guestText('he is blue')]);
  expect((await stat(spoolFile)).mode & 0o077).toBe(0);
});

test('the log says what failed, and shows neither the guest’s words nor the number', async () => {
  const { post, desk, log } = await deskOnAPort();
  desk.trouble = recordsDown;
  await post('/carrier/text', guestText('he is blue'));
  expect(log()).toContain('SQLITE_READONLY');
  expect(log()).not.toMatch(/blue|9705550123/);
});

test('texts spooled at the same moment are each kept on a line of their own', async () => {
  const file = join(await ownFolder(), 'spool.jsonl');
  const spool = openSpool(file, logInMemory().log);
  const ids = Array.from({ length: 50 }, (_, index) => `SM${index}`);
  await Promise.all(ids.map((id) => spool.append(guestText('two\nlines', { MessageSid: id }), AT)));
  const lines = (await readFile(file, 'utf8')).split('\n');
  expect(lines.map((line) => JSON.parse(line).form.MessageSid as string)).toEqual(ids);
});

test('the next start hands the spooled texts to the desk once, and the spool is gone', async () => {
  const { post, desk, spoolFile } = await deskOnAPort();
  await post('/carrier/text', guestText('taken before', { MessageSid: 'SM0' }));
  desk.trouble = recordsDown;
  await post('/carrier/text', guestText('taken before', { MessageSid: 'SM0' }));
  await post('/carrier/text', guestText('he is blue'));
  desk.trouble = null;

  const next = openSpool(spoolFile, logInMemory().log);
  expect(await next.replay((inbound) => desk.receive(inbound))).toEqual({ done: 2, left: 0 });
  expect(desk.received.map((inbound) => inbound.id)).toEqual(['SM0', 'SM1']);
  expect(existsSync(spoolFile)).toBe(false);
  expect(await next.replay(recordsDown)).toEqual({ done: 0, left: 0 });
});

test('a spooled text that fails again stays, and those around it are taken', async () => {
  const { log, written } = logInMemory();
  const file = join(await ownFolder(), 'spool.jsonl');
  const spool = openSpool(file, log);
  for (const id of ['SM1', 'SM2', 'SM3']) {
    await spool.append(guestText('he is blue', { MessageSid: id }), AT);
  }
  const desk = deskInMemory();
  const result = await spool.replay((inbound) => (inbound.id === 'SM2' ? recordsDown() : desk.receive(inbound)));
  expect(result).toEqual({ done: 2, left: 1 });
  expect(await readFile(file, 'utf8')).toContain('"MessageSid":"SM2"');
  expect(written()).toContain('SQLITE_READONLY');
  expect(await spool.replay((inbound) => desk.receive(inbound))).toEqual({ done: 1, left: 0 });
  expect(desk.received.map((inbound) => inbound.id)).toEqual(['SM1', 'SM3', 'SM2']);
});

test('a line torn by a crash stays to be looked at, and swallows no other text', async () => {
  const file = join(await ownFolder(), 'spool.jsonl');
  await writeFile(file, '{"at":"2026-11-25T09:10:00.000Z","form":{"Body":"he is b');
  const { log, written } = logInMemory();
  const spool = openSpool(file, log);
  await spool.append(guestText('after the crash'), AT);
  const desk = deskInMemory();
  expect(await spool.replay((inbound) => desk.receive(inbound))).toEqual({ done: 1, left: 1 });
  expect(desk.received.map((inbound) => inbound.text)).toEqual(['after the crash']);
  expect(written()).not.toContain('he is b');
});

test('a text spooled while the spool is replayed is not lost', async () => {
  const file = join(await ownFolder(), 'spool.jsonl');
  const spool = openSpool(file, logInMemory().log);
  await spool.append(guestText('first'), AT);
  const during = guestText('second', { MessageSid: 'SM2' });
  const result = await spool.replay(() => spool.append(during, AT));
  expect(result).toEqual({ done: 1, left: 1 });
  expect(JSON.parse(await readFile(file, 'utf8')).form).toEqual(during);
});

test('when the spool cannot be written either, the guest is still answered and people are alarmed', async () => {
  const { post, desk, folder, log } = await deskOnAPort();
  // A file where the folder should be fails for everyone, also for root, whom no file mode stops.
  await writeFile(join(folder, 'data'), '');
  desk.trouble = recordsDown;
  const answer = await post('/carrier/text', guestText('he is blue'));
  expect([answer.status, answer.texts]).toEqual([200, SAFE]);
  expect(desk.alarmed).toHaveLength(1);
  expect(log()).toContain('neither in the records nor in the spool');
  expect(log()).not.toMatch(/blue|9705550123/);
});

test('an alarm that fails is logged, and the guest is answered all the same', async () => {
  const { post, desk, log } = await deskOnAPort();
  desk.trouble = recordsDown;
  desk.alarm = () => Promise.reject(new Error('no network'));
  expect((await post('/carrier/text', guestText('he is blue'))).texts).toEqual(SAFE);
  expect(log()).toContain('nobody could be told');
});

test('an alarm that hangs holds up no answer', async () => {
  const { post, desk } = await deskOnAPort();
  desk.trouble = recordsDown;
  desk.alarm = () => new Promise(() => {});
  expect((await post('/carrier/text', guestText('he is blue'))).texts).toEqual(SAFE);
});

test('a desk that hangs counts as failed before the carrier gives up', async () => {
  const { post, desk, spoolFile } = await deskOnAPort({ answerWithinMs: 1 });
  desk.trouble = () => new Promise(() => {});
  expect((await post('/carrier/text', guestText('he is blue'))).texts).toEqual(SAFE);
  expect(desk.alarmed).toHaveLength(1);
  expect(existsSync(spoolFile)).toBe(true);
});
