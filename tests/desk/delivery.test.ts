import { describe, expect, test } from 'vitest';
import {
  BRAM,
  GUEST,
  LOWEN,
  conversationOf,
  entriesOf,
  firstSentence,
  nightDesk,
  openCalloutsOf,
} from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';
import { pocketCarrier } from './pocket-carrier.ts';

const BLUE_LIPS = 'my husband has blue lips';

describe('the delivery of a reply', () => {
  /** A desk whose carrier reports, one reply given, and what a report on that reply is about. */
  async function replied(): Promise<{ desk: NightDesk; reply: string; about: string; resent: () => number }> {
    const desk = await nightDesk({ carrier: pocketCarrier({ reportsDelivery: true }) });
    const reply = await desk.text(GUEST, 'it beeps');
    const entry = (await entriesOf(desk, GUEST)).at(-1);
    return { desk, reply, about: `reply=${entry?.id}`, resent: () => desk.carrier.textsTo(GUEST).length };
  }

  test('not confirmed in 30 seconds: the same words are sent as a text, once', async () => {
    const { desk, reply, resent } = await replied();
    await desk.pass('PT29S');
    expect(resent()).toBe(0);
    await desk.pass('PT1S');
    expect(desk.carrier.textsTo(GUEST)).toEqual([reply]);
    await desk.pass('PT3H');
    expect(resent()).toBe(1);
  });

  test('is watched whatever it says: that words went to who has the callout, that texts are too many', async () => {
    const desk = await nightDesk({ carrier: pocketCarrier({ reportsDelivery: true }) });
    await desk.text(GUEST, BLUE_LIPS);
    await desk.text(BRAM, 'TAKE 1');
    const passedOn = await desk.text(GUEST, 'which door do you come to');
    expect(passedOn).toMatch(/Bram/);
    await desk.pass('PT31S');
    expect(desk.carrier.textsTo(GUEST)).toContain(passedOn);

    let tooMany = '';
    for (let text = 0; text < 31; text += 1) tooMany = await desk.text(LOWEN, `nice hotel ${text}`);
    expect(tooMany).toMatch(/more texts than I can follow/);
    await desk.pass('PT31S');
    expect(desk.carrier.textsTo(LOWEN)).toContain(tooMany);
  });

  test.for(['delivered', 'sent'])('"%s": nothing is sent again', async (status) => {
    const { desk, about, resent } = await replied();
    await desk.report(about, status);
    await desk.pass('PT6H');
    expect(resent()).toBe(0);
  });

  test.for(['undelivered', 'sent, undelivered', 'undelivered, sent', 'sent, failed, failed', 'failed, delivered'])(
    'reports of %s: sent again at once, and once',
    async (reports) => {
      const { desk, about, reply, resent } = await replied();
      for (const status of reports.split(', ')) await desk.report(about, status);
      expect(desk.carrier.textsTo(GUEST)).toEqual([reply]);
      await desk.pass('PT6H');
      expect(resent()).toBe(1);
    },
  );

  test('"undelivered" after it was sent again anyway: not a third time', async () => {
    const { desk, about, resent } = await replied();
    await desk.pass('PT30S');
    await desk.report(about, 'undelivered');
    await desk.pass('PT6H');
    expect(resent()).toBe(1);
  });

  test('a carrier that reports nothing gets nothing twice', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'it beeps');
    await desk.pass('PT10M');
    expect(desk.carrier.textsTo(GUEST)).toEqual([]);
  });

  test('a carrier that is busy is tried again until it takes the text', async () => {
    const { desk, reply } = await replied();
    desk.carrier.busy.add(GUEST);
    await desk.pass('PT45S');
    desk.carrier.busy.clear();
    await desk.pass('PT1M');
    expect(desk.carrier.textsTo(GUEST)).toEqual([reply]);
  });
});

describe('a guest who opted out', () => {
  test.for([
    ['STOP', {}],
    ['basta ya', { OptOutType: 'STOP' }],
  ] as const)(
    'with "%s" is left in peace, and a danger text still brings a callout: CALL, TEXTS BLOCKED',
    async ([word, more]) => {
      const desk = await nightDesk();
      expect(await desk.text(GUEST, word, more)).toBe('');
      expect(await desk.look((tx) => tx.latestConversation(GUEST))).toBeNull();
      await desk.text(GUEST, BLUE_LIPS);
      const [brief] = desk.carrier.textsTo(BRAM);
      expect(brief).toMatch(/^CALL, TEXTS BLOCKED\. DANGER.*\(970\) 555-0101/);
    },
  );

  test('and comes back with START is no longer called blocked', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'STOP');
    expect(await desk.text(GUEST, 'START')).toBe('');
    await desk.text(GUEST, BLUE_LIPS);
    expect(desk.carrier.textsTo(BRAM)[0]).toMatch(/^DANGER/);
  });

  test('in danger by the carrier’s own opt-out word is in danger all the same', async () => {
    const desk = await nightDesk();
    expect(firstSentence(await desk.text(GUEST, BLUE_LIPS, { OptOutType: 'STOP' }))).toMatch(/\b911\b/);
    expect(desk.carrier.textsTo(BRAM)[0]).toMatch(/^CALL, TEXTS BLOCKED/);
  });

  test('gets no text when silence moves the conversation on, and the callout rings all the same', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'HELP');
    await desk.text(GUEST, 'STOP');
    await desk.pass('PT6M');
    expect(desk.carrier.textsTo(GUEST)).toEqual([]);
    expect(desk.carrier.textsTo(BRAM)[0]).toMatch(/^CALL, TEXTS BLOCKED\. DANGER/);
  });
});

test('"stop the beeping" is no opt-out', async () => {
  const desk = await nightDesk();
  expect(await desk.text(GUEST, 'stop the beeping')).not.toBe('');
  expect((await desk.look((tx) => tx.latestConversation(GUEST)))?.guestMessages).toBe(1);
  await desk.text(GUEST, BLUE_LIPS);
  expect(desk.carrier.textsTo(BRAM)[0]).toMatch(/^DANGER/);
});

test('HELP alone is asked about as danger, and gets the identity that carriers require as well', async () => {
  const desk = await nightDesk();
  expect(await desk.text(GUEST, 'HELP')).toMatch(/YES or NO[^]*Quillmere Basin Oxygen.*STOP/);
});

test('YES is an answer where a question stands, and no opt-in', async () => {
  const desk = await nightDesk();
  await desk.text(GUEST, 'HELP');
  expect(firstSentence(await desk.text(GUEST, 'YES'))).toMatch(/\b911\b/);
  expect((await conversationOf(desk, GUEST)).ending).toBe('emergency');
  expect(await openCalloutsOf(desk, GUEST)).toHaveLength(1);
});
