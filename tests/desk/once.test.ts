import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { sql } from 'kysely';
import { expect, onTestFinished, test } from 'vitest';
import { guestText, ownFolder } from '../carrier/desk-on-a-port.ts';
import {
  BRAM,
  GUEST,
  NIGHT,
  ODALYS,
  conversationOf,
  entriesOf,
  firstSentence,
  nightDesk,
  openCalloutsOf,
} from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';
import { SIGNED_UNDER, postSigned } from './signed-posts.ts';

const BLUE_LIPS = 'my husband has blue lips';

/** The guest's texts as they were kept. */
async function keptOf(desk: NightDesk, phone: string): Promise<string[]> {
  return (await entriesOf(desk, phone)).filter((entry) => entry.who === 'guest').map((entry) => entry.words);
}

test('the same message id again gets the same reply, whatever it says now, and leaves one entry', async () => {
  const desk = await nightDesk();
  const first = await desk.text(GUEST, BLUE_LIPS, { MessageSid: 'SMx' });
  await desk.text(GUEST, 'yes');
  expect(await desk.text(GUEST, 'thanks', { MessageSid: 'SMx' })).toBe(first);
  expect(await keptOf(desk, GUEST)).toEqual([BLUE_LIPS, 'yes']);
  expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
});

test('the same message id at the same moment gets the same reply, one entry and one callout', async () => {
  const desk = await nightDesk();
  const form = guestText(BLUE_LIPS, { From: GUEST });
  const answers = await Promise.all(Array.from({ length: 5 }, () => postSigned(desk.here, '/carrier/text', form)));
  expect(new Set(answers.map((answer) => answer.body)).size).toBe(1);
  expect(firstSentence(answers[0]?.texts.join() ?? '')).toMatch(/\b911\b/);
  expect(await keptOf(desk, GUEST)).toEqual([BLUE_LIPS]);
  expect(await openCalloutsOf(desk, GUEST)).toHaveLength(1);
});

test('two texts of one guest at the same moment are answered one after the other, in one conversation', async () => {
  const desk = await nightDesk();
  const post = (id: string, words: string) =>
    postSigned(desk.here, '/carrier/text', guestText(words, { From: GUEST, MessageSid: id }));
  const answers = await Promise.all([post('SMa', "it won't turn on"), post('SMb', BLUE_LIPS)]);
  expect(answers.some((answer) => firstSentence(answer.texts.join()).includes('911'))).toBe(true);
  const spoke = (await entriesOf(desk, GUEST)).map((entry) => entry.who);
  expect(spoke.slice(0, 3)).toEqual(['guest', 'desk', 'guest']);
  expect((await conversationOf(desk, GUEST)).guestMessages).toBe(2);
});

test('texts of forty phones at the same moment are each answered with their own reply', async () => {
  const desk = await nightDesk();
  const phones = Array.from({ length: 40 }, (_, index) => `+1970555${1000 + index}`);
  const answers = await Promise.all(
    phones.map((From, index) =>
      postSigned(
        desk.here,
        '/carrier/text',
        guestText(index % 2 ? BLUE_LIPS : 'it beeps', { From, MessageSid: `SM${index}` }),
      ),
    ),
  );
  answers.forEach(({ texts }, index) => {
    expect(firstSentence(texts.join()).includes('911')).toBe(index % 2 === 1);
  });
  for (const phone of phones) expect(await keptOf(desk, phone)).toHaveLength(1);
});

test('killed between commit and reply, the next process gives the reply, and the callout rings', async () => {
  const folder = await ownFolder();
  const program = spawn(
    process.execPath,
    [join(import.meta.dirname, 'dies-before-replying.ts'), folder, NIGHT, SIGNED_UNDER.token, SIGNED_UNDER.publicUrl],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  );
  const ended = once(program, 'exit') as Promise<[number | null, string | null]>;
  onTestFinished(() => void program.kill('SIGKILL'));
  const [here] = (await once(createInterface(program.stdout), 'line')) as [string];
  const form = guestText(BLUE_LIPS, { From: GUEST });
  await expect(postSigned(here, '/carrier/text', form)).rejects.toThrow(/fetch failed/);
  expect((await ended)[1]).toBe('SIGKILL');

  const desk = await nightDesk({ folder });
  const reply = await desk.text(GUEST, BLUE_LIPS, { MessageSid: 'SM1' });
  expect(firstSentence(reply)).toMatch(/\b911\b/);
  expect(await keptOf(desk, GUEST)).toEqual([BLUE_LIPS]);
  expect(await openCalloutsOf(desk, GUEST)).toHaveLength(1);
  await desk.pass('PT1M');
  expect(desk.carrier.textsTo(BRAM).join()).toContain(BLUE_LIPS);
});

test.for([
  [BLUE_LIPS, /^Call 911 now/, /sounds like danger/],
  ['it beeps', /\(970\) 555-0190.*911/, /call them/],
] as const)(
  'records gone read-only under "%s": the guest gets a safe reply, people are told, the form is in the spool',
  async ([words, safe, told]) => {
    const folder = await ownFolder();
    const desk = await nightDesk({ folder });
    await desk.text(GUEST, 'it beeps');
    await desk.records.onTables(({ db }) => sql`pragma query_only = 1`.execute(db));
    const form = guestText(words, { From: GUEST, MessageSid: 'SMlost' });
    const { texts } = await postSigned(desk.here, '/carrier/text', form);
    expect(texts.join()).toMatch(safe);
    for (const phone of [BRAM, ODALYS]) expect(desk.carrier.textsTo(phone).join()).toMatch(told);
    expect(JSON.parse(await readFile(desk.spoolFile, 'utf8'))).toMatchObject({ form });
    expect(desk.log()).toContain('It is read-only');
    expect(desk.log()).not.toMatch(/blue lips|9705550101/);

    // Nothing of it was half kept: the next process takes the same text as a new one.
    const next = await nightDesk({ folder });
    expect(await next.text(GUEST, words, { MessageSid: 'SMlost' })).not.toBe(texts.join());
    expect(await keptOf(next, GUEST)).toEqual(['it beeps', words]);
  },
);

test('nothing is spooled while all is well', async () => {
  const desk = await nightDesk();
  await desk.text(GUEST, BLUE_LIPS);
  expect(existsSync(desk.spoolFile)).toBe(false);
});
