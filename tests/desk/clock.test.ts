import { describe, expect, test } from 'vitest';
import { after, instantOf } from '../../src/time/instant.ts';
import { ringKey } from '../../src/desk/work-kinds.ts';
import type { FlowBook } from '../../src/flow/book.ts';
import type { FlowDocument, Step } from '../../src/flow/document.ts';
import { BOOK, BRAM, GUEST, INES, LOWEN, NIGHT, ODALYS, nightDesk } from './night-desk.ts';
import { DOES_NOT_START, littleBook } from './little-flow.ts';
import type { NightDesk } from './night-desk.ts';

const BLUE_LIPS = 'my husband has blue lips';
/** Comes today: the welcome is due at 15:00. */
const TOBIN = '+19705550103';
const AFTERNOON = instantOf('2026-11-25T13:30:00-07:00');

const briefs = (desk: NightDesk) => desk.carrier.textsTo(BRAM).filter((text) => /DANGER.*TAKE/.test(text)).length;
const refills = (desk: NightDesk, phone = GUEST) =>
  desk.carrier.textsTo(phone).filter((text) => text.includes('runs low')).length;
const checkBacks = (desk: NightDesk) =>
  desk.carrier.textsTo(GUEST).filter((text) => text.includes('still running well')).length;

const directNumbers = (desk: NightDesk) =>
  desk.carrier.textsTo(GUEST).filter((text) => text.includes('(970) 555-0190')).length;

/** Settles a fault: a check-back is due in a quarter of an hour. */
async function settleAFault(desk: NightDesk): Promise<void> {
  await desk.text(GUEST, 'the bottle is empty');
  await desk.text(GUEST, 'yes');
  expect(await desk.text(GUEST, 'yes it bubbles')).toMatch(/Good/);
}

/** A flow that rests the matter at once, and asks after it in two hours, as symptoms are. */
function bookThatAsksAgain(): FlowBook {
  const rest: Step = {
    tell: { en: 'Rest.', es: 'Descanse.' },
    silent: { after: 'PT2H', to: 'symptoms.check-back' },
    end: 'information',
  };
  const flow: FlowDocument = {
    flow: 'resting',
    about: 'Rests at once.',
    matter: 'rest',
    'guest-messages': 7,
    'opens-on': { 'no-power': 'rest' },
    steps: { rest },
  };
  return { ...BOOK, flows: [...BOOK.flows, flow] };
}

describe('a clock that is set back an hour', () => {
  test('holds up no callout: its next round comes a minute later, not an hour and a minute', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.setClock(after(NIGHT, '-PT1H'));
    const before = briefs(desk);
    await desk.pass('PT1M');
    expect(briefs(desk)).toBe(before + 1);
    await desk.pass('PT1M');
    expect(desk.carrier.textsTo(ODALYS).join()).toContain('DANGER');
  });

  test('holds up no first round either, where it is not the morning’s', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.records.transaction(async (tx) => {
      await tx.dropWork(ringKey(1, 1), NIGHT);
      const first = { kind: 'ring', notAfter: null, phone: null, danger: true, payload: { calloutId: 1, round: 0 } };
      await tx.addWork({ ...first, key: ringKey(1, 0), dueAt: after(NIGHT, 'PT1S') });
    });
    const before = briefs(desk);
    await desk.setClock(after(NIGHT, '-PT1H'));
    await desk.pass('PT1S');
    expect(briefs(desk)).toBe(before + 1);
  });

  test('is acted on once, by however many workers: a round is not an hour early either', async () => {
    const one = await nightDesk();
    await one.text(GUEST, BLUE_LIPS);
    const two = await nightDesk({ folder: one.folder });
    await two.doDue();
    for (const desk of [one, two]) await desk.setClock(after(NIGHT, '-PT1H'));
    expect([briefs(one), briefs(two)]).toEqual([1, 0]);
    await two.pass('PT1M');
    expect(briefs(two)).toBe(1);
  });

  test('holds up nobody who was being tried at that very moment, by the time before', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.setClock(after(NIGHT, '-PT1H'));
    // Committed only now, by whoever had read the clock before it was set.
    await desk.records.transaction(async (tx) => {
      for (const { id } of await tx.undoneWork(['ring', 'untaken'])) {
        await tx.retimeWork(id, { dueAt: after(NIGHT, 'PT1M'), notAfter: null });
      }
    });
    const before = briefs(desk);
    await desk.setClock(after(NIGHT, '-PT59M45S'));
    await desk.pass('PT1M');
    expect(briefs(desk)).toBe(before + 1);
    expect(directNumbers(desk)).toBe(0);
    await desk.pass('PT2M');
    expect(directNumbers(desk)).toBe(1);
  });

  test('holds up no danger question', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'HELP');
    await desk.setClock(after(NIGHT, '-PT1H'));
    await desk.pass('PT6M');
    expect(desk.carrier.textsTo(BRAM).join()).toContain('DANGER');
  });

  test('holds up no check-back, and asks once', async () => {
    const desk = await nightDesk();
    await settleAFault(desk);
    await desk.setClock(after(NIGHT, '-PT1H'));
    await desk.pass('PT15M');
    expect(checkBacks(desk)).toBe(1);
    await desk.pass('PT2H');
    expect(checkBacks(desk)).toBe(1);
  });

  test('is noticed also when it was set back while the desk was down', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.canSend();
    await desk.records.close();
    const again = await nightDesk({ folder: desk.folder, carrier: desk.carrier, startsAt: after(NIGHT, '-PT1H') });
    const before = briefs(again);
    await again.pass('PT1M');
    expect(briefs(again)).toBe(before + 1);
  });

  test('wakes nobody before the morning for what is held for it', async () => {
    const desk = await nightDesk({ book: littleBook() });
    await desk.text(GUEST, DOES_NOT_START);
    await desk.text(GUEST, 'no');
    await desk.setClock(after(NIGHT, '-PT1H'));
    await desk.pass('PT5H49M');
    expect(desk.carrier.textsTo(BRAM)).toEqual([]);
    await desk.pass('PT1M');
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
  });

  test('sends no reminder and no welcome a second time', async () => {
    const desk = await nightDesk({ startsAt: AFTERNOON });
    await desk.pass('PT1H45M');
    await desk.setClock(AFTERNOON);
    await desk.pass('PT3H');
    expect(refills(desk)).toBe(1);
    expect(desk.carrier.textsTo(TOBIN).filter((text) => text.startsWith('Welcome'))).toHaveLength(1);
  });
});

describe('a clock that is set forward an hour', () => {
  test('brings one round of a callout at once, and then a minute is a minute', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    const before = briefs(desk);
    await desk.setClock(after(NIGHT, 'PT1H'));
    expect(briefs(desk)).toBe(before + 1);
    await desk.pass('PT59S');
    expect(briefs(desk)).toBe(before + 1);
  });

  test('brings a check-back early, once, and a reminder once', async () => {
    const desk = await nightDesk({ startsAt: AFTERNOON });
    await settleAFault(desk);
    await desk.setClock(after(AFTERNOON, 'PT1H'));
    expect(checkBacks(desk)).toBe(1);
    expect(refills(desk, LOWEN)).toBe(1);
    await desk.pass('PT1H');
    expect([checkBacks(desk), refills(desk, LOWEN)]).toEqual([1, 1]);
  });
});

describe('a desk that was down for six hours', () => {
  /** Closed at one time and opened six hours later. */
  async function downFor6h(desk: NightDesk): Promise<NightDesk> {
    await desk.records.close();
    const startsAt = after(desk.now(), 'PT6H');
    return nightDesk({ folder: desk.folder, carrier: desk.carrier, startsAt });
  }

  test('rings a callout at once, with one round, not with those that were missed', async () => {
    const desk = await nightDesk({ startsAt: after(NIGHT, '-PT2H') });
    await desk.text(GUEST, BLUE_LIPS);
    const before = briefs(desk);
    const again = await downFor6h(desk);
    await again.pass('PT1S');
    expect(briefs(again)).toBe(before + 1);
  });

  test('goes on with danger questions that nobody answered', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'HELP');
    const again = await downFor6h(desk);
    await again.pass('PT4M');
    expect(again.carrier.textsTo(GUEST).join()).toMatch(/no answer yet/);
    expect(again.carrier.textsTo(INES).join()).toContain('DANGER');
  });

  test('asks nobody whether a fix of six hours ago still holds', async () => {
    const desk = await nightDesk();
    await settleAFault(desk);
    const again = await downFor6h(desk);
    await again.pass('PT1H');
    expect(checkBacks(again)).toBe(0);
  });

  test('asks after a symptom all the same', async () => {
    const desk = await nightDesk({ book: bookThatAsksAgain() });
    expect(await desk.text(GUEST, DOES_NOT_START)).toMatch(/^Rest\./);
    const again = await downFor6h(desk);
    await again.pass('PT1S');
    expect(again.carrier.textsTo(GUEST).join()).toMatch(/I said I would ask again/);
  });

  test('leaves out the reminder that is too late, and sends the next day’s', async () => {
    const desk = await nightDesk({ startsAt: AFTERNOON });
    const again = await downFor6h(desk);
    await again.pass('PT16H');
    expect(refills(again)).toBe(0);
    await again.pass('PT3H');
    expect(refills(again)).toBe(1);
  });

  test('still says welcome on the delivery day', async () => {
    const desk = await nightDesk({ startsAt: AFTERNOON });
    const again = await downFor6h(desk);
    await again.pass('PT1S');
    expect(again.carrier.textsTo(TOBIN)).toEqual([expect.stringMatching(/^Welcome/)]);
  });

  test('sends the summary of a morning it slept through, once', async () => {
    const desk = await nightDesk({ startsAt: instantOf('2026-11-25T05:00:00-07:00') });
    await desk.pass('PT1M');
    const again = await downFor6h(desk);
    await again.pass('PT6H');
    expect(again.carrier.textsTo(ODALYS).filter((text) => text.includes('last 24 h'))).toHaveLength(1);
  });

  test('lets a notice that it comes upon in the night wait for the morning', async () => {
    const desk = await nightDesk({ startsAt: instantOf('2026-11-25T14:59:00-07:00') });
    await desk.pass('PT30S');
    await desk.setClock(instantOf('2026-11-26T03:00:00-07:00'));
    await desk.pass('PT4H59M');
    expect(desk.carrier.textsTo(TOBIN)).toEqual([]);
    await desk.pass('PT1M');
    expect(desk.carrier.textsTo(TOBIN).filter((text) => text.startsWith('Welcome'))).toHaveLength(1);
  });
});
