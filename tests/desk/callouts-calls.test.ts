import { describe, expect, test } from 'vitest';
import { TRYING_STEP } from '../../src/desk/callout/attempts.ts';
import { BRAM, GUEST, INES, ODALYS, entriesOf, nightDesk, openCalloutsOf } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';
import { callTo, callsTo, ended, turn } from './phone-calls.ts';

const BLUE_LIPS = 'my husband has blue lips';
const A_PERSON = 'I want to talk to a person';

async function inDanger(): Promise<NightDesk> {
  const desk = await nightDesk();
  await desk.text(GUEST, BLUE_LIPS);
  return desk;
}

const called = (desk: NightDesk): number[] => [BRAM, INES, ODALYS].map((phone) => callsTo(desk, phone));

describe('a danger callout by voice', () => {
  test('rings the first at once with the text, then a person a minute down the list, and round again', async () => {
    const desk = await inDanger();
    expect(called(desk)).toEqual([1, 0, 0]);
    await desk.pass('PT1M');
    expect(called(desk)).toEqual([1, 1, 0]);
    await desk.pass('PT1M');
    expect(called(desk)).toEqual([1, 1, 1]);
    await desk.pass('PT1M');
    expect(called(desk)).toEqual([2, 1, 1]);
  });

  test('says what, who and where, and waits for a key', async () => {
    const desk = await inDanger();
    const { words, waits, twiml } = await turn(desk, callTo(desk, BRAM), 0, { AnsweredBy: 'human' });
    expect(words).toMatch(/night desk of Quillmere Basin Oxygen.*DANGER.*Perrin Aldwick.*Marlstone Lodge, 2 0 4/);
    expect(words).toMatch(/Press 1 to take it, 2 to pass it on, 3 for the details/);
    expect(waits).toBe(true);
    expect(twiml).toContain('numDigits="1"');
    expect(twiml).toContain('actionOnEmptyResult="true"');
  });

  test('is taken with 1, as by TAKE: the others and the guest are told, a text has the brief, nobody is rung any more', async () => {
    const desk = await inDanger();
    await desk.pass('PT2M');
    const before = desk.carrier.sent.length;
    await turn(desk, callTo(desk, INES), 0);
    const { words, waits } = await turn(desk, callTo(desk, INES), 1, { Digits: '1' });
    expect(words).toMatch(/Callout 1 is yours/);
    expect(waits).toBe(false);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'taken' }]);
    expect(desk.carrier.sent.slice(before).map(({ to, body }) => [to, body])).toEqual([
      [BRAM, 'Ines Quarrow has callout 1.'],
      [ODALYS, 'Ines Quarrow has callout 1.'],
      [GUEST, expect.stringMatching(/Ines has your case now.*by 2:17 AM/)],
      [INES, expect.stringMatching(/Callout 1 is yours.*Marlstone Lodge, 204.*DONE 1/)],
    ]);
    const rung = desk.carrier.calls.length;
    await desk.pass('PT10M');
    expect(desk.carrier.calls).toHaveLength(rung);
  });

  test('tells the details with 3, numbers digit by digit, and begins anew with a key that means nothing', async () => {
    const desk = await inDanger();
    await turn(desk, callTo(desk, BRAM), 0);
    const details = /^Said: .*blue lips.*Dispatch 9 7 0, 5 5 5, 0 1 8 0.*Press 1/;
    for (const [number, [Digits, says]] of [['3', details] as const, ['9', /^DANGER.*Press 1/] as const].entries()) {
      const { words, waits } = await turn(desk, callTo(desk, BRAM), number + 1, { Digits });
      expect([words, waits]).toEqual([expect.stringMatching(says), true]);
    }
  });

  test('is passed on with 2: the next is rung at once, and the one who passed no more', async () => {
    const desk = await inDanger();
    const call = callTo(desk, BRAM);
    await turn(desk, call, 0);
    expect((await turn(desk, call, 1, { Digits: '2' })).words).toMatch(/trying the next/);
    await ended(desk, call, 'completed');
    expect(called(desk)).toEqual([1, 1, 0]);
    await desk.pass('PT5M');
    expect(called(desk)[0]).toBe(1);
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
    expect(called(desk)[2]).toBeGreaterThan(0);
  });

  test('passed on by everyone goes round again, a minute later', async () => {
    const desk = await inDanger();
    for (const phone of [BRAM, INES, ODALYS]) {
      await turn(desk, callTo(desk, phone), 0);
      await turn(desk, callTo(desk, phone), 1, { Digits: '2' });
    }
    const before = desk.carrier.calls.length;
    await desk.pass('PT59S');
    expect(desk.carrier.calls).toHaveLength(before);
    await desk.pass('PT1S');
    expect(desk.carrier.calls.length).toBeGreaterThan(before);
  });

  test('ends without a key after some silent turns, and goes on to the next', async () => {
    const desk = await inDanger();
    const call = callTo(desk, BRAM);
    const waits = [];
    for (const number of [0, 1, 2, 3]) waits.push((await turn(desk, call, number)).waits);
    expect(waits).toEqual([true, true, true, false]);
    expect(called(desk)).toEqual([1, 1, 0]);
  });

  test('that someone else has taken says so to who answers late, and to 1 pressed late', async () => {
    const desk = await inDanger();
    await desk.pass('PT1M');
    await turn(desk, callTo(desk, INES), 0);
    await desk.text(BRAM, 'TAKE');
    const late = await turn(desk, callTo(desk, INES), 1, { Digits: '1' });
    expect(late).toMatchObject({ words: expect.stringMatching(/Bram Tiddlecote has callout 1/), waits: false });
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'taken' }]);
  });

  test('asked twice for the same turn gives the same words and takes it once', async () => {
    const desk = await inDanger();
    const call = callTo(desk, BRAM);
    const first = await turn(desk, call, 0);
    const taken = await turn(desk, call, 1, { Digits: '1' });
    const sent = desk.carrier.sent.length;
    expect(await turn(desk, call, 1, { Digits: '1' })).toEqual(taken);
    expect(await turn(desk, call, 1, { Digits: '2' })).toEqual(taken);
    expect(await turn(desk, call, 0)).toEqual(first);
    expect(desk.carrier.sent).toHaveLength(sent);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'taken' }]);
  });

  test('of a number that is none is over at once', async () => {
    const desk = await inDanger();
    expect(await turn(desk, { ...callTo(desk, BRAM), workId: 4711 }, 0)).toMatchObject({ waits: false });
  });
});

describe('a phone that cannot be reached', () => {
  test.for(['busy', 'no-answer', 'failed', 'canceled'])('(%s) moves on at once', async (status) => {
    const desk = await inDanger();
    await ended(desk, callTo(desk, BRAM), status);
    expect(called(desk)).toEqual([1, 1, 0]);
  });

  test('because a machine answers moves on at once, and the machine is told nothing', async () => {
    const desk = await inDanger();
    const heard = await turn(desk, callTo(desk, BRAM), 0, { AnsweredBy: 'machine_start' });
    expect(heard).toMatchObject({ words: '', waits: false });
    expect(called(desk)).toEqual([1, 1, 0]);
  });

  test('reported twice moves on once', async () => {
    const desk = await inDanger();
    const call = callTo(desk, BRAM);
    await ended(desk, call, 'busy');
    await ended(desk, call, 'busy');
    expect(called(desk)).toEqual([1, 1, 0]);
  });

  test('is every phone: the list is gone through once, and begun again a minute after its last', async () => {
    const desk = await inDanger();
    for (const phone of [BRAM, INES, ODALYS]) await ended(desk, callTo(desk, phone), 'no-answer');
    expect(called(desk)).toEqual([1, 1, 1]);
    await desk.pass('PT59S');
    expect(called(desk)).toEqual([1, 1, 1]);
    await desk.pass('PT1S');
    expect(called(desk)).toEqual([2, 1, 1]);
  });

  test('as the carrier itself says when it is to ring it, moves on as well', async () => {
    const desk = await nightDesk();
    desk.carrier.busy.add(BRAM);
    await desk.text(GUEST, BLUE_LIPS);
    expect(called(desk)).toEqual([0, 1, 0]);
  });

  test('tonight: the next person is tried at once in place of after the wait', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, A_PERSON);
    await desk.pass('PT5M');
    expect(called(desk)).toEqual([1, 0, 0]);
    await ended(desk, callTo(desk, BRAM), 'no-answer');
    expect(desk.carrier.textsTo(INES)).toHaveLength(1);
  });
});

test('tonight: a text, a call five minutes later, then the next person, then the owner, and round again', async () => {
  const desk = await nightDesk();
  await desk.text(GUEST, A_PERSON);
  const seen: string[] = [];
  const names = new Map<string, string>([
    [BRAM, 'Bram'],
    [INES, 'Ines'],
    [ODALYS, 'Odalys'],
  ]);
  let [texts, calls] = [0, 0];
  for (let round = 0; round < 7; round += 1) {
    const to = [...desk.carrier.sent.slice(texts), ...desk.carrier.calls.slice(calls)].map((each) => each.to);
    seen.push(
      to
        .map((phone) => names.get(phone))
        .filter(Boolean)
        .join(),
    );
    [texts, calls] = [desk.carrier.sent.length, desk.carrier.calls.length];
    await desk.pass('PT5M');
  }
  expect(seen).toEqual(['Bram', 'Bram', 'Ines', 'Ines', 'Odalys', 'Odalys', 'Bram']);
  expect(called(desk)).toEqual([2, 1, 1]);
});

test('every attempt is an entry, and so is what came of it', async () => {
  const desk = await inDanger();
  await ended(desk, callTo(desk, BRAM), 'no-answer');
  await turn(desk, callTo(desk, INES), 0);
  await turn(desk, callTo(desk, INES), 1, { Digits: '1' });
  const attempts = (await entriesOf(desk, GUEST)).filter((entry) => entry.step === TRYING_STEP);
  expect(attempts.map((entry) => entry.words)).toEqual([
    'callout 1: texting Bram Tiddlecote',
    'callout 1: calling Bram Tiddlecote',
    'callout 1: Bram Tiddlecote: no answer',
    'callout 1: texting Bram Tiddlecote',
    'callout 1: calling Ines Quarrow',
    'callout 1: Ines Quarrow took it by voice',
  ]);
});
