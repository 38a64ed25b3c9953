import { execFile } from 'node:child_process';
import { stat } from 'node:fs/promises';
import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, onTestFinished, test } from 'vitest';
import { nightbellApp } from '../../src/app.ts';
import { demoToken, makeDemoToken } from '../../src/carrier/demo-token.ts';
import { loopbackCarrier } from '../../src/carrier/loopback.ts';
import { staticVoice } from '../../src/carrier/static-fallback.ts';
import { openSpool } from '../../src/carrier/spool.ts';
import type { DeskInMemory } from './desk-in-memory.ts';
import { deskInMemory } from './desk-in-memory.ts';
import { logInMemory, ownFolder } from './desk-on-a-port.ts';

const VOICE_FALLBACK = staticVoice({
  outfitName: 'Quillmere Basin Oxygen',
  emergencyNumber: '911',
  directPhone: '+19705550190',
});

const run = promisify(execFile);

test('the loopback carrier takes every text, shows it to who listens, and logs no number in full', async () => {
  const { log, written } = logInMemory();
  const carrier = loopbackCarrier(log);
  const heard: string[] = [];
  const stop = carrier.onText((text) => heard.push(text.body));
  const sent = await carrier.sendText({ to: '+19705550102', body: 'DANGER, room 12', workId: 1 });
  stop();
  await carrier.sendText({ to: '+19705550102', body: 'second', workId: 2 });
  expect(sent).toEqual({ sent: true, providerId: 'loopback-1' });
  expect(heard).toEqual(['DANGER, room 12']);
  expect(carrier.sent.map((text) => text.body)).toEqual(['DANGER, room 12', 'second']);
  expect(written()).not.toMatch(/9705550102|DANGER/);
});

test('the demo’s token is made once, is random, and nobody else can read it', async () => {
  const [one, two] = [await ownFolder(), await ownFolder()];
  expect(demoToken(one)).toBe(null);
  const token = makeDemoToken(join(one, 'data'));
  expect(makeDemoToken(join(one, 'data'))).toBe(token);
  expect(demoToken(join(one, 'data'))).toBe(token);
  expect(makeDemoToken(two)).not.toBe(token);
  expect((await stat(join(one, 'data', 'demo-carrier-token'))).mode & 0o077).toBe(0);
});

/** The demo on a port, and `npm run post` against it from another process. */
async function demo(): Promise<{ desk: DeskInMemory; post: (...words: string[]) => Promise<string> }> {
  const dataDir = await ownFolder();
  const { log } = logInMemory();
  const desk = deskInMemory();
  const spool = openSpool(join(dataDir, 'spool.jsonl'), log);
  // Nothing listens at the public address: the command must sign for it all the same.
  const publicUrl = 'https://desk.example.com';
  const app = nightbellApp({
    desk,
    spool,
    log,
    token: makeDemoToken(dataDir),
    publicUrl,
    pages: null,
    voiceFallback: VOICE_FALLBACK,
  });
  const server = app.listen(0, '127.0.0.1');
  onTestFinished(() => void server.close());
  await once(server, 'listening');
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  const env = { PATH: process.env['PATH'], DATA_DIR: dataDir, PUBLIC_URL: publicUrl };
  return {
    desk,
    async post(...words) {
      const outcome = await run(process.execPath, ['src/commands/post.ts', '--url', url, ...words], { env }).catch(
        (error: { stderr: string }) => ({ stdout: `refused: ${error.stderr}` }),
      );
      return outcome.stdout.trim();
    },
  };
}

test('post sends a signed text and prints the reply; the same id is answered once; a forged one is refused', async () => {
  const { desk, post } = await demo();
  expect(await post("it won't stop beeping", '--from', '(970) 555-0142', '--id', 'SM7')).toBe(
    "reply 1 to: it won't stop beeping",
  );
  expect(await post('again', '--id', 'SM7')).toBe("reply 1 to: it won't stop beeping");
  expect(await post('let me in', '--forge')).toMatch(/^refused: The desk refused the text: 403/);
  expect(await post('hello', '--from', 'not-a-phone')).toMatch(/^refused: The desk refused the text: 400 From/);
  expect(desk.received.map((inbound) => inbound.from)).toEqual(['+19705550142']);
});

test('post without a reply says so, and without a text says how it is used', async () => {
  const { desk, post } = await demo();
  desk.says = null;
  expect(await post('STOP')).toBe('(no reply)');
  expect(await post()).toMatch(/^refused: Give one text, in quotes[^]*--forge/);
  expect(await post('x', '--colour', 'red')).toMatch(/^refused: [^]*--forge/);
});

test('post says what to do when no desk runs, or none ever ran here', async () => {
  const dataDir = await ownFolder();
  const post = (url: string): Promise<string> =>
    run(process.execPath, ['src/commands/post.ts', 'hello', '--url', url], {
      env: { PATH: process.env['PATH'], DATA_DIR: dataDir },
    }).then(
      () => 'sent',
      (error: { stderr: string }) => error.stderr,
    );
  expect(await post('http://127.0.0.1:9')).toMatch(/start the desk first, with npm start/);
  makeDemoToken(dataDir);
  expect(await post('http://127.0.0.1:9')).toMatch(/^No desk answers at http:\/\/127\.0\.0\.1:9: start it/);
});
