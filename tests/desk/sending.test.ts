import { sql } from 'kysely';
import { describe, expect, test } from 'vitest';
import type { OutboundText } from '../../src/desk/carrier.ts';
import { instantOf } from '../../src/time/instant.ts';
import { BRAM, GUEST, INES, nightDesk } from './night-desk.ts';
import { simulatedProvider } from './simulated-provider.ts';

const BLUE_LIPS = 'my husband has blue lips';
/** An hour before the refill reminders of the demo's guests are due. */
const AFTERNOON = instantOf('2026-11-25T13:00:00-07:00');

async function provided(startsAt = instantOf('2026-11-25T02:10:00-07:00')) {
  const provider = simulatedProvider();
  const desk = await nightDesk({ carrier: provider.carrier, startsAt });
  const textsTo = (phone: string) => desk.carrier.textsTo(phone);
  return { desk, ...provider, textsTo };
}
const briefsIn = (texts: readonly string[]) => texts.filter((text) => text.includes('DANGER'));
const remindersIn = (texts: readonly string[]) => texts.filter((text) => text.includes('runs low'));

describe('a text of a callout', () => {
  test.for(['is busy', 'is down', 'fails'] as const)(
    'goes out a few seconds later when the carrier %s',
    async (doing) => {
      const { desk, doTo, textsTo } = await provided();
      doTo(BRAM, doing, 'takes');
      await desk.text(GUEST, BLUE_LIPS);
      expect(textsTo(BRAM)).toEqual([]);
      await desk.pass('PT5S');
      expect(briefsIn(textsTo(BRAM))).toHaveLength(1);
    },
  );

  test.for(['takes, fails', 'takes, times out'] as const)(
    'of which nobody knows whether it was taken (%s) goes out twice rather than never',
    async (doing) => {
      const { desk, doTo, textsTo } = await provided();
      doTo(BRAM, doing, 'takes');
      await desk.text(GUEST, BLUE_LIPS);
      await desk.pass('PT5S');
      expect(briefsIn(textsTo(BRAM))).toHaveLength(2);
    },
  );

  test('to a number that is not valid is given up at once, and the next person is tried', async () => {
    const { desk, doTo, textsTo } = await provided();
    doTo(BRAM, 'refuses 21211');
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT2S');
    expect(briefsIn(textsTo(INES)).length).toBeGreaterThanOrEqual(1);
    expect(textsTo(BRAM)).toEqual([]);
  });

  test('is tried at growing waits while the carrier is down, not again and again', async () => {
    const { desk, doTo, carrier } = await provided();
    const tries: string[] = [];
    const sendText = carrier.sendText.bind(carrier);
    Object.assign(carrier, {
      sendText: (text: OutboundText) => {
        if (text.to === GUEST) tries.push(desk.now().slice(11, 19));
        return sendText(text);
      },
    });
    await desk.text(GUEST, 'HELP');
    doTo(GUEST, 'is down');
    await desk.pass('PT3M');
    tries.length = 0;
    await desk.pass('PT2M');
    expect(tries.length).toBeGreaterThan(0);
    expect(tries.length).toBeLessThanOrEqual(6);
  });
});

describe('a reminder', () => {
  test.for(['is busy', 'is down'] as const)(
    'that the carrier surely did not take (%s) is sent again',
    async (doing) => {
      const { desk, doTo, textsTo } = await provided(AFTERNOON);
      doTo(GUEST, doing, doing, 'takes');
      await desk.pass('PT1H30M');
      expect(remindersIn(textsTo(GUEST))).toHaveLength(1);
    },
  );

  test.for(['takes, fails', 'takes, times out'] as const)(
    'of which nobody knows whether it was taken (%s) is not sent again',
    async (doing) => {
      const { desk, doTo, textsTo } = await provided(AFTERNOON);
      doTo(GUEST, doing, 'takes');
      await desk.pass('PT3H');
      expect(remindersIn(textsTo(GUEST))).toHaveLength(1);
    },
  );

  test('two hours late is dropped, and the next day has its own', async () => {
    const { desk, doTo, textsTo } = await provided(AFTERNOON);
    doTo(GUEST, 'is down');
    await desk.pass('PT3H10M');
    doTo(GUEST, 'takes');
    await desk.pass('PT3H');
    expect(remindersIn(textsTo(GUEST))).toEqual([]);
    await desk.pass('PT19H');
    expect(remindersIn(textsTo(GUEST))).toHaveLength(1);
  });

  test('to a phone that the carrier says opted out (21610) is the last, and briefs then say to call', async () => {
    const { desk, doTo, textsTo } = await provided(AFTERNOON);
    doTo(GUEST, 'refuses 21610');
    await desk.pass('PT1H30M');
    doTo(GUEST, 'takes');
    await desk.pass('PT24H');
    expect(textsTo(GUEST)).toEqual([]);
    await desk.text(GUEST, BLUE_LIPS);
    expect([...textsTo(INES), ...textsTo(BRAM)].join('\n')).toMatch(/^CALL, TEXTS BLOCKED/);
  });
});

describe('the carrier’s reports on a text', () => {
  test('that its phone opted out put it on record, however late they come', async () => {
    const { desk, textsTo } = await provided(AFTERNOON);
    await desk.pass('PT1H');
    const { workId } = desk.carrier.sent.find((text) => text.to === GUEST) ?? { workId: 0 };
    await desk.pass('PT5H');
    await desk.report(`work=${workId}`, 'failed', { ErrorCode: '21610' });
    expect(await desk.look((tx) => tx.latestConversation(GUEST))).toBeNull();
    await desk.pass('PT48H');
    expect(textsTo(GUEST)).toHaveLength(1);
  });

  test.for([
    [['delivered', 'failed'], 0],
    [['failed', 'delivered'], 1],
    [['sent', 'delivered', 'undelivered', 'sent', 'queued'], 0],
    [['delivered', 'delivered', 'sent'], 0],
    [['undelivered', 'undelivered'], 1],
  ] as const)('%s, in that order: a lost reply is sent again %i times', async ([statuses, times]) => {
    const { desk, textsTo } = await provided();
    await desk.text(GUEST, 'it beeps');
    const conversation = await desk.look((tx) => tx.latestConversation(GUEST));
    const entries = await desk.look((tx) => tx.entries(conversation?.id ?? 0));
    for (const status of statuses) await desk.report(`reply=${entries.at(-1)?.id}`, status);
    await desk.pass('PT10M');
    expect(textsTo(GUEST)).toHaveLength(times);
  });
});

describe('a desk', () => {
  test('says that it can send until a send fails, and again when one worked', async () => {
    const { desk, doTo } = await provided();
    expect(await desk.canSend()).toBe(true);
    doTo(BRAM, 'is down');
    await desk.text(GUEST, BLUE_LIPS);
    expect(await desk.canSend()).toBe(false);
    doTo(BRAM, 'takes');
    await desk.pass('PT5S');
    expect(await desk.canSend()).toBe(true);
  });

  test('whose text one number does not take can send all the same', async () => {
    const { desk, doTo } = await provided();
    doTo(BRAM, 'refuses 21211');
    await desk.text(GUEST, BLUE_LIPS);
    expect(await desk.canSend()).toBe(true);
  });
});

test('a desk whose records cannot be written cannot send', async () => {
  const { desk } = await provided();
  await desk.records.onTables(({ db }) => sql`pragma query_only = 1`.execute(db));
  expect(await desk.canSend()).toBe(false);
});

describe('at most so many texts a second', () => {
  test('leave the desk; what is more waits its turn and is not lost', async () => {
    const desk = await nightDesk({ startsAt: AFTERNOON, textsPerSecond: 2 });
    const sentBy = async (duration: string) => {
      await desk.pass(duration);
      return remindersIn(desk.carrier.sent.map((text) => text.body)).length;
    };
    expect(await sentBy('PT1H')).toBe(2);
    expect(await sentBy('PT1S')).toBe(4);
    expect(await sentBy('PT1M')).toBeGreaterThanOrEqual(8);
  });

  test('and danger goes ahead of all that wait', async () => {
    const desk = await nightDesk({ startsAt: AFTERNOON, textsPerSecond: 0.1 });
    await desk.pass('PT1H');
    expect(remindersIn(desk.carrier.sent.map((text) => text.body))).toHaveLength(1);
    await desk.text(GUEST, BLUE_LIPS);
    expect(briefsIn(desk.carrier.sent.map((text) => text.body))).toHaveLength(1);
  });
});
