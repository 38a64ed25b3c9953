import { describe, expect, test } from 'vitest';
import { textParts } from '../../src/care/text-parts.ts';
import {
  BRAM,
  GUEST,
  INES,
  LOWEN,
  LOWENS_OTHER_PHONE,
  ODALYS,
  entriesOf,
  firstSentence,
  nightDesk,
  openCalloutsOf,
} from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';
import { callTo, callsTo, ended, turn } from './phone-calls.ts';
import { pocketCarrier } from './pocket-carrier.ts';

const BLUE_LIPS = 'my husband has blue lips';
const A_PERSON = 'I want to talk to a person';

describe('while someone has the callout', () => {
  async function taken(words = A_PERSON): Promise<NightDesk> {
    const desk = await nightDesk();
    await desk.text(GUEST, words);
    await desk.text(BRAM, 'TAKE');
    return desk;
  }

  test('the guest knows who has it, and by when they will hear, on their own clock', async () => {
    const desk = await taken();
    expect(desk.carrier.textsTo(GUEST)).toEqual([
      expect.stringMatching(/^Bram has your case.*by 2:30 AM.*\(970\) 555-0190/),
    ]);
  });

  test('the guest’s texts go on to the taker; the first gets one line, the others none', async () => {
    const desk = await taken();
    expect(await desk.text(GUEST, 'it beeps again')).toMatch(/^Bram has your case and gets what you text here/);
    expect(await desk.text(GUEST, 'now it is quiet')).toBe('');
    expect(await desk.text(GUEST, "it won't turn on")).toBe('');
    expect(desk.carrier.textsTo(BRAM).slice(1)).toEqual([
      'Callout 1, the guest: "it beeps again"',
      'Callout 1, the guest: "now it is quiet"',
      'Callout 1, the guest: "it won\'t turn on"',
    ]);
    expect((await entriesOf(desk, GUEST)).filter((entry) => entry.who === 'guest')).toHaveLength(4);
  });

  test('the desk asks nothing of its own', async () => {
    const desk = await taken(BLUE_LIPS);
    const before = desk.carrier.textsTo(GUEST).length;
    await desk.pass('PT14M');
    expect(desk.carrier.textsTo(GUEST)).toHaveLength(before);
  });

  test('danger is danger: the emergency reply, and a callout of its own', async () => {
    const desk = await taken();
    await desk.text(GUEST, 'it beeps again');
    expect(firstSentence(await desk.text(GUEST, BLUE_LIPS))).toMatch(/\b911\b/);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([
      { urgency: 'danger', status: 'ringing' },
      { status: 'taken' },
    ]);
  });

  test('the danger questions are asked, and their answer is the desk’s', async () => {
    const desk = await taken();
    expect(await desk.text(GUEST, 'HELP')).toMatch(/YES or NO/);
    expect(firstSentence(await desk.text(GUEST, 'yes'))).toMatch(/\b911\b/);
  });

  test('the second phone of the rental is heard as well', async () => {
    const desk = await nightDesk();
    await desk.text(LOWEN, A_PERSON);
    await desk.text(LOWENS_OTHER_PHONE, A_PERSON);
    await desk.text(BRAM, 'TAKE');
    for (const phone of [LOWEN, LOWENS_OTHER_PHONE]) expect(desk.carrier.textsTo(phone).join()).toContain('Bram has');
    await desk.text(LOWENS_OTHER_PHONE, 'we are in the lobby');
    expect(desk.carrier.textsTo(BRAM).at(-1)).toContain('we are in the lobby');
  });

  test('after DONE the desk answers again', async () => {
    const desk = await taken();
    await desk.text(BRAM, 'DONE it was the outlet');
    expect(await desk.text(GUEST, "it won't turn on")).not.toBe('');
    expect(desk.carrier.textsTo(BRAM).join()).not.toContain('turn on');
  });
});

describe('a callout that nobody takes', () => {
  test.for([
    [BLUE_LIPS, 'PT3M'],
    [A_PERSON, 'PT30M'],
  ] as const)('(%s) gives the guest the direct number after %s', async ([words, wait]) => {
    const desk = await nightDesk();
    await desk.text(GUEST, words);
    const number = () =>
      desk.carrier.textsTo(GUEST).filter((text) => /not reached anyone.*\(970\) 555-0190/.test(text));
    await desk.pass(wait.replace('M', 'M').replace(/\d+/, (minutes) => String(Number(minutes) - 1)));
    expect(number()).toHaveLength(0);
    await desk.pass('PT1M');
    expect(number()).toHaveLength(1);
    await desk.pass('PT1H');
    expect(number()).toHaveLength(1);
  });

  test('but is taken gives it to nobody', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, A_PERSON);
    await desk.text(BRAM, 'TAKE');
    await desk.pass('PT1H');
    expect(desk.carrier.textsTo(GUEST).join()).not.toContain('not reached');
  });
});

describe('danger', () => {
  const asked = (desk: NightDesk): number =>
    desk.carrier
      .textsTo(GUEST)
      .filter((text) => /checking on you.*Has someone called 911.*someone with them/.test(text)).length;

  test('asks the guest after five minutes and after ten, then has a person call', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT4M59S');
    expect(asked(desk)).toBe(0);
    await desk.pass('PT1S');
    expect(asked(desk)).toBe(1);
    await desk.pass('PT5M');
    expect(asked(desk)).toBe(2);
    await desk.pass('PT5M');
    for (const phone of [BRAM, INES, ODALYS]) {
      expect(desk.carrier.textsTo(phone).join()).toMatch(
        /no word from the guest. Please call them now: \(970\) 555-0101/,
      );
    }
    expect(callsTo(desk, GUEST)).toBe(1);
    await desk.pass('PT30M');
    expect(asked(desk)).toBe(2);
  });

  test('understands the answer, and has nobody call a guest who has answered', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT10M');
    expect(await desk.text(GUEST, 'yes')).toMatch(/dispatcher/);
    await desk.pass('PT10M');
    expect(desk.carrier.textsTo(BRAM).join()).not.toContain('no word');
  });

  test('is closed by nobody but a human', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.text(GUEST, 'all is well');
    await desk.text(GUEST, 'yes');
    await desk.pass('PT1H');
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ urgency: 'danger', status: 'ringing' }]);
  });

  test('that is taken, with a guest who stays silent, asks the taker to call', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.text(BRAM, 'TAKE');
    await desk.pass('PT15M');
    expect(desk.carrier.textsTo(BRAM).at(-1)).toMatch(/no word from the guest/);
    expect(desk.carrier.textsTo(INES)).toEqual([]);
    expect(asked(desk)).toBe(0);
  });
});

describe('a guest who cannot be reached by text', () => {
  async function optedOut(): Promise<NightDesk> {
    const desk = await nightDesk();
    await desk.text(GUEST, 'it beeps');
    await desk.text(GUEST, 'STOP');
    return desk;
  }

  test('in danger is called at once by the desk’s voice, with the emergency words', async () => {
    const desk = await optedOut();
    await desk.text(GUEST, BLUE_LIPS);
    expect(desk.carrier.textsTo(BRAM)[0]).toMatch(/^CALL, TEXTS BLOCKED\./);
    const { words, waits } = await turn(desk, callTo(desk, GUEST), 0);
    expect(words).toMatch(/Call 9 1 1 now, by voice call\. Say: 14 Marlstone Way, Quillmere Basin, 2 0 4.*Press 1/);
    expect(waits).toBe(true);
  });

  test.for([
    ['1', /Do what the dispatcher says/, /says that someone has called/],
    ['2', /Shout and knock/, /nobody there can call.*dispatch centre/],
  ] as const)('who presses %s is heard, and whoever was offered it is told', async ([Digits, words, told]) => {
    const desk = await optedOut();
    await desk.text(GUEST, BLUE_LIPS);
    await turn(desk, callTo(desk, GUEST), 0);
    expect(await turn(desk, callTo(desk, GUEST), 1, { Digits })).toMatchObject({
      words: expect.stringMatching(words),
      waits: false,
    });
    expect(desk.carrier.textsTo(BRAM).at(-1)).toMatch(told);
  });

  test('nor by voice is called three times, then a human is told to go', async () => {
    const desk = await optedOut();
    await desk.text(GUEST, BLUE_LIPS);
    for (const count of [1, 2, 3]) {
      expect(callsTo(desk, GUEST)).toBe(count);
      await ended(desk, callTo(desk, GUEST), 'no-answer');
      await desk.pass('PT1M');
    }
    expect(callsTo(desk, GUEST)).toBe(3);
    expect(desk.carrier.textsTo(BRAM).join()).toMatch(/phone is not answered either.*Please go/);
  });

  test('whose machine answers gets the words on it, and is called again', async () => {
    const desk = await optedOut();
    await desk.text(GUEST, BLUE_LIPS);
    const call = callTo(desk, GUEST);
    expect(await turn(desk, call, 0, { AnsweredBy: 'machine_start' })).toMatchObject({
      words: expect.stringContaining('Call 9 1 1 now'),
      waits: false,
    });
    await ended(desk, call, 'completed');
    await desk.pass('PT1M');
    expect(callsTo(desk, GUEST)).toBe(2);
  });

  test('because a reply was not delivered is called at once in danger', async () => {
    const desk = await nightDesk({ carrier: pocketCarrier({ reportsDelivery: true }) });
    await desk.text(GUEST, BLUE_LIPS);
    const entry = (await entriesOf(desk, GUEST)).find((each) => each.who === 'desk');
    expect(callsTo(desk, GUEST)).toBe(0);
    await desk.report(`reply=${entry?.id}`, 'undelivered');
    expect(callsTo(desk, GUEST)).toBe(1);
    await desk.pass('PT1M');
    expect(desk.carrier.textsTo(BRAM).at(-1)).toMatch(/^CALL, TEXTS BLOCKED/);
  });

  test('because reply and repeat were not delivered is a human’s to call; one that arrives ends it', async () => {
    const desk = await nightDesk({ carrier: pocketCarrier({ reportsDelivery: true }) });
    await desk.text(GUEST, 'it beeps');
    const entry = (await entriesOf(desk, GUEST)).at(-1);
    await desk.report(`reply=${entry?.id}`, 'undelivered');
    expect(desk.carrier.textsTo(BRAM)).toEqual([]);
    const repeat = desk.carrier.sent.findLast((text) => text.to === GUEST);
    await desk.report(`work=${repeat?.workId}`, 'undelivered');
    expect(desk.carrier.textsTo(BRAM)).toEqual([
      expect.stringMatching(/^CALL, TEXTS BLOCKED\. Tonight: texts do not arrive/),
    ]);
    expect(callsTo(desk, GUEST)).toBe(0);
    const reply = await desk.text(GUEST, 'is someone there');
    expect(reply).not.toBe('');
    const answer = (await entriesOf(desk, GUEST)).findLast((each) => each.words === reply);
    await desk.report(`reply=${answer?.id}`, 'delivered');
    await desk.pass('PT10M');
    expect(desk.carrier.textsTo(INES).at(-1)).toMatch(/^Tonight/);
  });
});

test('a brief in danger holds everything, in two text parts with the words around it', async () => {
  const desk = await nightDesk();
  await desk.text('+19705550104', "it won't turn on");
  const [brief = ''] = desk.carrier.textsTo(BRAM);
  for (const part of [
    'DANGER',
    'Ysolde Kettermere',
    '(970) 555-0104',
    'fragile',
    'Thistlemark Cabins, Cabin 4, unit NB-04',
    'Gate stays open',
    "it won't turn on",
    'Dispatch (970) 555-0180',
    'TAKE 1',
  ]) {
    expect(brief).toContain(part);
  }
  expect(textParts(brief).parts).toBeLessThanOrEqual(2);
});
