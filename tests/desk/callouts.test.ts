import { describe, expect, test } from 'vitest';
import { DOES_NOT_START, littleBook } from './little-flow.ts';
import {
  BRAM,
  GUEST,
  INES,
  LOWEN,
  LOWENS_OTHER_PHONE,
  ODALYS,
  STRANGER,
  conversationOf,
  entriesOf,
  nightDesk,
  openCalloutsOf,
} from './night-desk.ts';

const BLUE_LIPS = 'my husband has blue lips';
const A_PERSON = 'I want to talk to a person';

describe('a danger callout', () => {
  test('is texted at once, again each minute, and after two to the next person and the owner', async () => {
    const desk = await nightDesk();
    const tried = () => [BRAM, INES, ODALYS].map((phone) => desk.carrier.textsTo(phone).length);
    await desk.text(GUEST, BLUE_LIPS);
    expect(tried()).toEqual([1, 0, 0]);
    await desk.pass('PT59S');
    expect(tried()).toEqual([1, 0, 0]);
    await desk.pass('PT1S');
    expect(tried()).toEqual([2, 0, 0]);
    await desk.pass('PT1M');
    expect(tried()).toEqual([3, 1, 1]);
    await desk.pass('PT1M');
    expect(tried()).toEqual([4, 2, 2]);
    expect(desk.carrier.textsTo(ODALYS).every((text) => text.includes('TAKE 1'))).toBe(true);
  });

  test('goes on for as long as nobody takes it', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT5H');
    expect(desk.carrier.textsTo(BRAM).filter((text) => text.includes('TAKE 1')).length).toBeGreaterThanOrEqual(300);
  });

  test('ends with TAKE: nobody is tried any more, the others are told who has it, and so is the guest', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT2M');
    const before = desk.carrier.sent.length;
    expect(await desk.text(INES, 'TAKE 1')).toMatch(/Callout 1 is yours.*Marlstone Lodge, 204.*DONE 1/);
    const told = desk.carrier.sent.slice(before).map(({ to, body }) => [to, body]);
    expect(told).toEqual([
      [BRAM, expect.stringContaining('Ines Quarrow has callout 1')],
      [ODALYS, expect.stringContaining('Ines Quarrow has callout 1')],
      [GUEST, expect.stringContaining('Ines')],
    ]);
    await desk.pass('PT10M');
    expect(desk.carrier.textsTo(BRAM).filter((text) => text.includes('TAKE'))).toHaveLength(3);
    expect((await entriesOf(desk, GUEST)).at(-1)).toMatchObject({ who: 'desk' });
  });

  test('taken by one is not taken by a second', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT2M');
    await desk.text(INES, 'take');
    expect(await desk.text(BRAM, 'take 1')).toContain('taken by Ines Quarrow before you');
    expect(await desk.text(INES, 'Take 1')).toContain('You have callout 1');
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'taken', takenBy: expect.any(Number) }]);
  });

  test('is closed by DONE with a note, only by who took it', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    expect(await desk.text(BRAM, 'DONE 1 all good')).toContain('TAKE 1');
    await desk.text(BRAM, 'TAKE 1');
    expect(await desk.text(BRAM, 'DONE 1 ambulance came, unit switched off')).toContain('closed');
    expect(await openCalloutsOf(desk, GUEST)).toEqual([]);
    const { id } = await conversationOf(desk, GUEST);
    expect(await desk.look((tx) => tx.callouts(id))).toMatchObject([
      { status: 'done', note: 'ambulance came, unit switched off' },
    ]);
  });

  test('that is taken tells its taker when danger is named again', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.text(BRAM, 'TAKE 1');
    await desk.text(GUEST, 'he is not breathing');
    expect(desk.carrier.textsTo(BRAM).at(-1)).toMatch(/Callout 1, again.*he is not breathing/);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'taken' }]);
  });

  test('names no one to the guest before someone has really taken it', async () => {
    const desk = await nightDesk();
    const reply = await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT5M');
    const told = [reply, ...desk.carrier.textsTo(GUEST)].join('\n');
    expect(told).not.toMatch(/\b(Bram|Ines|Odalys|coming|on (the|their) way)\b/i);
  });
});

describe('TAKE', () => {
  test('from a guest is a guest’s word and takes nothing', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    const reply = await desk.text(STRANGER, 'TAKE 1');
    expect(reply).not.toMatch(/yours|callout/i);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'ringing' }]);
  });

  test('from a technician to whom nothing was offered yet is a guest’s word as well', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    const reply = await desk.text(INES, 'TAKE 1');
    expect(reply).not.toMatch(/yours|callout/i);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'ringing' }]);
  });

  test('of a callout that was offered to others only is refused, with those that may be taken', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT2M');
    await desk.text(INES, 'TAKE 1');
    await desk.text(LOWEN, BLUE_LIPS);
    expect(await desk.text(INES, 'TAKE 2')).toMatch(/not offered callout 2.*: 1/);
  });

  test('without a number means the only one that rings, and asks where there are several', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.text(LOWEN, BLUE_LIPS);
    expect(await desk.text(BRAM, 'TAKE')).toMatch(/TAKE with a number: 2, 1/);
    await desk.text(BRAM, 'TAKE 1');
    expect(await desk.text(BRAM, 'TAKE')).toContain('Callout 2 is yours');
  });
});

describe('other callouts', () => {
  test('two phones of one rental with the same fault are one callout', async () => {
    const desk = await nightDesk();
    await desk.text(LOWEN, A_PERSON);
    await desk.text(LOWENS_OTHER_PHONE, A_PERSON);
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
    expect(await openCalloutsOf(desk, LOWEN)).toHaveLength(1);
    expect((await conversationOf(desk, LOWEN)).id).not.toBe((await conversationOf(desk, LOWENS_OTHER_PHONE)).id);
  });

  test('tonight rings at once, and again, but not by the minute', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, A_PERSON);
    expect(desk.carrier.textsTo(BRAM)).toEqual([expect.stringMatching(/^Tonight: .*Perrin Aldwick/)]);
    await desk.pass('PT5M');
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
    await desk.pass('PT55M');
    expect(desk.carrier.textsTo(BRAM).length).toBeGreaterThan(1);
  });

  test('for the morning is held until 07:00 at the property, and then goes to who is on call', async () => {
    const desk = await nightDesk({ book: littleBook() });
    await desk.text(GUEST, DOES_NOT_START);
    await desk.text(GUEST, 'no');
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ urgency: 'morning', status: 'held' }]);
    await desk.pass('PT4H49M');
    expect(desk.carrier.sent).toEqual([]);
    await desk.pass('PT1M');
    expect(desk.carrier.textsTo(BRAM)).toEqual([expect.stringMatching(/^For the morning:/)]);
  });
});

describe('a technician who cannot be reached by text', () => {
  test('costs no minute: the next person and the owner are tried at once', async () => {
    const desk = await nightDesk();
    desk.carrier.unreachable.add(BRAM);
    await desk.text(GUEST, BLUE_LIPS);
    expect([INES, ODALYS].map((phone) => desk.carrier.textsTo(phone).length)).toEqual([1, 1]);
  });

  test('is found out by a late report as well', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    const lost = () => `work=${desk.carrier.sent.findLast((text) => text.to === BRAM)?.workId}`;
    await desk.report(lost(), 'undelivered');
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(2);
    await desk.report(lost(), 'undelivered');
    expect([INES, ODALYS].map((phone) => desk.carrier.textsTo(phone).length)).toEqual([1, 1]);
  });

  test('starts no storm of texts when nobody can be reached, and the minutes go on', async () => {
    const desk = await nightDesk();
    for (const phone of [BRAM, INES, ODALYS]) desk.carrier.unreachable.add(phone);
    await desk.text(GUEST, BLUE_LIPS);
    expect(desk.carrier.sent).toEqual([]);
    desk.carrier.unreachable.clear();
    await desk.pass('PT1M');
    expect([BRAM, INES, ODALYS].map((phone) => desk.carrier.textsTo(phone).length)).toEqual([1, 1, 1]);
  });

  test('for ten minutes gets one text soon after, not all of them', async () => {
    const desk = await nightDesk();
    desk.carrier.busy.add(BRAM);
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT10M30S');
    expect(desk.carrier.textsTo(BRAM)).toEqual([]);
    desk.carrier.busy.clear();
    await desk.pass('PT1M');
    const { length } = desk.carrier.textsTo(BRAM);
    expect(length).toBeGreaterThanOrEqual(1);
    expect(length).toBeLessThanOrEqual(2);
  });

  test('is none of the guest’s texts: a report about those moves no callout', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT2M');
    const before = desk.carrier.textsTo(BRAM).length;
    const toGuest = desk.carrier.sent.find((text) => text.to === GUEST);
    await desk.report(`work=${toGuest?.workId}`, 'failed');
    await desk.report('work=4711', 'failed');
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(before);
  });
});
