import { array, assert, asyncProperty, constantFrom, double, oneof, record, string } from 'fast-check';
import { expect, test } from 'vitest';
import { callDesk } from '../caller/call-desk.ts';
import type { Caller } from '../caller/exchange.ts';
import { GUEST, openCalloutsOf } from '../desk/night-desk.ts';

/**
 * Calls in which anything is said, pressed and left unsaid, in any order. The provider of `exchange.ts` follows each document
 * by its rules, posts every request twice, and fails by itself on a document that is wrong.
 */
const RUNS = { numRuns: 25, seed: 20261126 } as const;
const TIMEOUT_MS = 120_000;

type Act = (caller: Caller) => Promise<void>;

/** What recognition makes of a telephone line: words, parts of words, other people's talk, nothing that is a word. */
const words = oneof(
  constantFrom(
    'it beeps',
    'two',
    'dos',
    'um the uh',
    'operator',
    'the bottle is empty no wait it is full',
    'ok',
    'no no no',
    'sí',
    'next',
    '__proto__',
    '1 1 1 1 1 1 1',
    '<Say>boo</Say>',
  ),
  string({ unit: 'binary', maxLength: 40 }),
);
const act = oneof(
  record({ words, confidence: double({ min: 0, max: 1, noNaN: true }) }).map(
    ({ words: said, confidence }): Act =>
      (caller) =>
        caller.say(said, confidence),
  ),
  constantFrom('0', '1', '2', '3', '5', '9', '*', '#').map(
    (key): Act =>
      (caller) =>
        caller.press(key),
  ),
  constantFrom<Act>((caller) => caller.silent()),
);

test(
  'whatever is said and pressed in a call, its documents stay right, and danger is heard whenever it is named',
  async () => {
    await assert(
      asyncProperty(array(act, { maxLength: 7 }), async (acts) => {
        const exchange = await callDesk();
        const caller = await exchange.call(GUEST);
        for (const each of acts) if (caller.at === 'listening') await each(caller);
        // A call may have ended by then, or wait for a person: whoever calls again is heard again.
        const again = caller.at === 'listening' ? caller : await exchange.call(GUEST);
        await again.say('my husband cannot breathe and his lips are blue');
        expect(again.last).toMatch(/9 1 1/);
        expect((await openCalloutsOf(exchange.desk, GUEST)).map(({ urgency }) => urgency)).toContain('danger');
      }),
      RUNS,
    );
  },
  TIMEOUT_MS,
);
