import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, existsSync, openSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { makeDemoToken } from '../../src/carrier/demo-token.ts';
import { guestText, ownFolder } from './desk-on-a-port.ts';
import { started, textTo } from './started.ts';
import type { Started } from './started.ts';

const STARTS_WITHIN_MS = 30_000;

interface Running extends Pick<Started, 'end'> {
  readonly text: (body: string, id: string) => Promise<readonly string[]>;
}

/** `npm start` as the demo with its data in the folder; resolved once it says where it is. */
async function start(dataDir: string): Promise<Running> {
  const { address, end } = started(null, { DATA_DIR: dataDir });
  const here = await address();
  return { text: (body, id) => textTo(here, dataDir, { body, id }), end };
}

test(
  'the demo answers danger, stops when asked, and after being killed gives the same reply to the same id',
  async () => {
    const dataDir = await ownFolder();
    const first = await start(dataDir);
    const reply = await first.text('he is blue and will not wake up', 'SM1');
    expect(reply.join()).toMatch(/^Call 911 now/);
    await first.end('SIGKILL');

    const second = await start(dataDir);
    expect(await second.text('he is blue and will not wake up', 'SM1')).toEqual(reply);
    expect(await second.end('SIGTERM')).toBe(0);
  },
  STARTS_WITHIN_MS,
);

test(
  'a text spooled before is taken at the start, and its id is known from then on',
  async () => {
    const dataDir = await ownFolder();
    makeDemoToken(dataDir);
    const spoolFile = join(dataDir, 'spool.jsonl');
    const form = guestText('he is blue and will not wake up', { MessageSid: 'SM1', From: '+19705550101' });
    await writeFile(spoolFile, JSON.stringify({ at: '2026-11-25T09:10:00.000Z', form }));
    const desk = await start(dataDir);
    expect(existsSync(spoolFile)).toBe(false);
    // Other words under the same id: the reply is the one to the spooled text.
    expect((await desk.text('thanks', 'SM1')).join()).toMatch(/^Call 911 now/);
    expect(await desk.end('SIGINT')).toBe(0);
  },
  STARTS_WITHIN_MS,
);

test.skipIf(!existsSync('/dev/full'))(
  'a log that cannot be written loses lines, and guests nothing',
  async () => {
    const dataDir = await ownFolder();
    const full = openSync('/dev/full', 'w');
    onTestFinished(() => closeSync(full));
    const { address, end } = started(null, { DATA_DIR: dataDir, LOG_LEVEL: 'info' }, full);
    const here = await address();
    for (const id of ['SM1', 'SM2', 'SM3']) {
      expect((await textTo(here, dataDir, { body: 'he is blue and will not wake up', id })).join()).toContain('911');
    }
    expect(await end('SIGTERM')).toBe(0);
  },
  STARTS_WITHIN_MS,
);

test('wrong settings keep it from starting, and all of them are named', async () => {
  const program = spawn(process.execPath, ['src/main.mjs'], {
    env: { PATH: process.env['PATH'], PORT: 'x', CARRIER_ACCOUNT: 'y' },
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  let said = '';
  program.stderr.on('data', (data: Buffer) => (said += data.toString()));
  const [code] = (await once(program, 'close')) as [number];
  expect(code).toBe(1);
  expect(said).toMatch(/PORT must be[^]*CARRIER_ACCOUNT must be[^]*CARRIER_TOKEN is missing/);
});
