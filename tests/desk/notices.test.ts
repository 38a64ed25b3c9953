import { describe, expect, test } from 'vitest';
import { textParts } from '../../src/care/text-parts.ts';
import { instantOf } from '../../src/time/instant.ts';
import { GUEST, LOWEN, LOWENS_OTHER_PHONE, ODALYS, conversationOf, nightDesk } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

/** Tobin Farrowgate comes today and stays five days; Ysolde Kettermere leaves the day after tomorrow; Corwin Hathersedge is on ten litres. */
const [TOBIN, YSOLDE, CORWIN] = ['+19705550103', '+19705550104', '+19705550109'] as const;
const BLUE_LIPS = 'my husband has blue lips';

const about = (desk: NightDesk, phone: string, words: RegExp): readonly string[] =>
  desk.carrier.textsTo(phone).filter((text) => words.test(text));
const welcomes = (desk: NightDesk, phone: string) => about(desk, phone, /^(Welcome|Bienvenido)/);
const refills = (desk: NightDesk, phone: string) => about(desk, phone, /runs low|botella del equipo/);
const collections = (desk: NightDesk, phone: string) => about(desk, phone, /ends tomorrow|termina mañana/);

describe('on the delivery day', () => {
  test('the guest hears who we are, when to text, the emergency number, why we may text, and how to stop it', async () => {
    const desk = await nightDesk();
    await desk.pass('PT12H49M');
    expect(welcomes(desk, TOBIN)).toEqual([]);
    await desk.pass('PT1M');
    const [words = '', ...more] = welcomes(desk, TOBIN);
    expect(more).toEqual([]);
    for (const part of ['Quillmere Basin Oxygen', 'any hour', '911', '(970) 555-0190', 'rental gave us', 'STOP']) {
      expect(words).toContain(part);
    }
    expect(textParts(words).parts).toBeLessThanOrEqual(2);
    expect(welcomes(desk, GUEST)).toEqual([]);
  });

  test('it is told once, however often the rentals are looked at and the desk is started', async () => {
    const desk = await nightDesk();
    await desk.pass('PT13H');
    await desk.records.close();
    const again = await nightDesk({ folder: desk.folder, startsAt: desk.now(), carrier: desk.carrier });
    await again.pass('PT9H');
    expect(welcomes(again, TOBIN)).toHaveLength(1);
  });

  test('a guest who is known to write Spanish reads Spanish', async () => {
    const desk = await nightDesk();
    await desk.text(TOBIN, 'hola, buenas noches, gracias por la máquina');
    await desk.pass('PT13H');
    expect(welcomes(desk, TOBIN)[0]).toMatch(/^Bienvenido.*STOP/);
  });

  test('nothing is told to a guest who opted out', async () => {
    const desk = await nightDesk();
    await desk.text(TOBIN, 'STOP');
    await desk.pass('PT168H');
    expect(desk.carrier.textsTo(TOBIN)).toEqual([]);
  });
});

describe('the day before the last', () => {
  test('the guest hears that the unit is collected, once, and both phones of a rental do', async () => {
    const desk = await nightDesk();
    await desk.pass('PT37H');
    expect(collections(desk, YSOLDE)).toEqual([]);
    await desk.pass('PT1H');
    expect(collections(desk, YSOLDE)).toHaveLength(1);
    await desk.pass('PT72H');
    expect([LOWEN, LOWENS_OTHER_PHONE, YSOLDE].map((phone) => collections(desk, phone).length)).toEqual([1, 1, 1]);
  });
});

describe('a water bottle', () => {
  test('is reminded of an hour before a day of use is over, each day, and no more after the stay', async () => {
    const desk = await nightDesk();
    await desk.pass('PT11H49M');
    expect(refills(desk, GUEST)).toEqual([]);
    await desk.pass('PT1M');
    expect(refills(desk, GUEST)).toEqual([expect.stringContaining('NB-01')]);
    await desk.pass('PT24H');
    expect(refills(desk, GUEST)).toHaveLength(2);
    await desk.pass('PT168H');
    expect(refills(desk, GUEST)).toHaveLength(4);
  });

  test('of a rental with two phones is told to one of them', async () => {
    const desk = await nightDesk();
    await desk.text(LOWEN, 'STOP');
    await desk.pass('PT12H');
    expect([LOWEN, LOWENS_OTHER_PHONE].map((phone) => refills(desk, phone).length)).toEqual([0, 2]);
  });

  test('at a high setting lasts half a day up there: the guest is told so, and reminded sooner than the trade would', async () => {
    const desk = await nightDesk({ startsAt: instantOf('2026-11-25T08:30:00-07:00') });
    expect(await desk.text(CORWIN, 'I refilled the bottle')).toMatch(/lasts about 12 hours/);
    await desk.pass('PT10H59M');
    expect(refills(desk, CORWIN)).toEqual([]);
    await desk.pass('PT1M');
    expect(refills(desk, CORWIN)).toEqual([expect.stringContaining('about 12 hours after it was filled')]);
  });

  test('that the guest says was refilled is counted from there', async () => {
    const desk = await nightDesk({ startsAt: instantOf('2026-11-25T12:00:00-07:00') });
    expect(await desk.text(GUEST, 'I refilled the bottle')).toMatch(/noted/);
    expect((await conversationOf(desk, GUEST)).ending).toBe('information');
    await desk.pass('PT22H59M');
    expect(refills(desk, GUEST)).toEqual([]);
    await desk.pass('PT1M');
    expect(refills(desk, GUEST)).toHaveLength(1);
  });

  test.for(['it has run 20 hours', 'filled it 20 hours ago', 'la llené hace 20 horas'])(
    '"%s" brings the reminder forward',
    async (words) => {
      const desk = await nightDesk({ startsAt: instantOf('2026-11-25T12:00:00-07:00') });
      await desk.text(GUEST, 'refilled');
      await desk.text(GUEST, words);
      await desk.pass('PT2H59M');
      expect(refills(desk, GUEST)).toEqual([]);
      await desk.pass('PT1M');
      expect(refills(desk, GUEST)).toHaveLength(1);
    },
  );

  test('refilled on the way through its flow is counted from there too', async () => {
    const desk = await nightDesk({ startsAt: instantOf('2026-11-25T12:00:00-07:00') });
    await desk.text(GUEST, 'the bottle is empty');
    await desk.text(GUEST, 'yes');
    expect(await desk.text(GUEST, 'yes it bubbles')).toMatch(/remind you/);
    await desk.pass('PT22H');
    expect(refills(desk, GUEST)).toEqual([]);
    await desk.pass('PT1H');
    expect(refills(desk, GUEST)).toHaveLength(1);
  });

  test('that would run low in the night is reminded of at eight in the evening before', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'I refilled it');
    await desk.pass('PT17H49M');
    expect(refills(desk, GUEST)).toEqual([]);
    await desk.pass('PT1M');
    expect(refills(desk, GUEST)).toHaveLength(1);
  });

  test('news of it does not cut short a question that stands, nor danger', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'HELP');
    expect(await desk.text(GUEST, 'I refilled it')).not.toMatch(/noted/);
    expect(await desk.text(TOBIN, 'I refilled it and now he is not breathing')).toMatch(/\b911\b/);
  });
});

test('in a week of nights nobody is texted in the night what they did not ask for', async () => {
  const desk = await nightDesk();
  const hours: number[] = [];
  const sendText = desk.carrier.sendText.bind(desk.carrier);
  Object.assign(desk.carrier, {
    sendText: (text: Parameters<typeof sendText>[0]) => {
      hours.push(Number(desk.now().slice(11, 13)));
      return sendText(text);
    },
  });
  await desk.pass('PT168H');
  // UTC, seven hours ahead of Denver in November: 8 in the morning is 15, 9 in the evening 4.
  expect(hours.length).toBeGreaterThan(30);
  expect(hours.filter((hour) => hour >= 4 && hour < 15)).toEqual([]);
});

describe('the morning summary', () => {
  test('counts the day and the night, and names what is still to be visited', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT3M');
    await desk.text('+19705550190', 'TAKE 1');
    await desk.text(LOWEN, 'I want to talk to a person');
    await desk.pass('PT5H47M');
    const [summary, ...more] = about(desk, ODALYS, /last 24 h/);
    expect(more).toEqual([]);
    expect(summary).toMatch(
      /2 conversations, 0 settled by the guest\. 2 callouts, taken in 3 min, 1 not taken\. Danger: 1\./,
    );
    expect(summary).toMatch(/To visit: Marlstone Lodge 204 \(.*\); Tarnhook Condominiums A2/);
  });

  test('comes once a day, also when nothing happened and the desk was started again', async () => {
    const desk = await nightDesk();
    await desk.pass('PT6H');
    await desk.records.close();
    const again = await nightDesk({ folder: desk.folder, startsAt: desk.now(), carrier: desk.carrier });
    await again.pass('PT23H');
    expect(about(again, ODALYS, /last 24 h/)).toEqual([expect.stringMatching(/0 conversations.*No callouts.*none/)]);
    await again.pass('PT2H');
    expect(about(again, ODALYS, /last 24 h/)).toHaveLength(2);
  });
});

test('the owner is reminded on the first of the month to test the list, unless that was done lately', async () => {
  const desk = await nightDesk();
  await desk.pass('PT144H');
  expect(about(desk, ODALYS, /npm run drill/)).toEqual([]);
  await desk.pass('PT12H');
  expect(about(desk, ODALYS, /npm run drill/)).toHaveLength(1);
});
