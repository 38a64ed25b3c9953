import { describe, expect, test } from 'vitest';
import { textParts } from '../../src/care/text-parts.ts';
import { ownerLists } from '../../src/desk/lists/lists.ts';
import type { OwnerLists } from '../../src/desk/lists/lists.ts';
import { listRecordsOn } from '../../src/records/list-records.ts';
import { after, instantOf } from '../../src/time/instant.ts';
import { callDesk } from '../caller/call-desk.ts';
import { BOOK, GUEST, LOWEN, LOWENS_OTHER_PHONE, nightDesk } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';
import { moveIn } from './rooms.ts';

const ZONE = 'America/Denver';
const TONE = 'one long tone that never ends';

function listsOf(desk: NightDesk, centsAPart: number | null = null): OwnerLists {
  const { records } = desk;
  return ownerLists({ lists: listRecordsOn(records), records, book: BOOK, zone: ZONE, centsAPart, now: desk.now() });
}

/** The unit stays silent though the outlet is good: a fault of the unit. */
async function silentUnit(desk: NightDesk, phone: string): Promise<void> {
  for (const words of ['it won’t start', TONE, TONE, TONE, 'yes']) await desk.text(phone, words);
}

/** The outlet was it: a fault of the room. */
async function deadOutlet(desk: NightDesk, phone: string): Promise<void> {
  for (const words of ['it won’t start', TONE, 'rolled it to the other wall. one short beep'])
    await desk.text(phone, words);
}

async function nextNight(desk: NightDesk): Promise<void> {
  await desk.setClock(after(desk.now(), 'PT24H'));
}

const verdicts = (all: Awaited<ReturnType<OwnerLists['failing']>>['units']) =>
  all
    .filter(({ faults }) => faults > 0)
    .map(({ name, faults, faultyRentals, verdict }) => [name, faults, faultyRentals, verdict]);

describe('what fails too often', () => {
  test('a unit is pulled at its third silent night, not at its second, with the counts that say so', async () => {
    const desk = await nightDesk();
    await silentUnit(desk, GUEST);
    await nextNight(desk);
    await silentUnit(desk, GUEST);
    expect(verdicts((await listsOf(desk).failing(30)).units)).toEqual([['NB-01', 2, 1, 'fine']]);
    await nextNight(desk);
    await silentUnit(desk, GUEST);
    const { units, rooms, weeks, fleetRate } = await listsOf(desk).failing(30);
    expect(verdicts(units)).toEqual([['NB-01', 3, 1, 'pull']]);
    expect(units[0]).toMatchObject({ rentalDays: 4, othersDaysAFault: null });
    expect(verdicts(rooms)).toEqual([]);
    expect(weeks.at(-1)).toMatchObject({ monday: '2026-11-23', events: 3 });
    expect(fleetRate).toBeCloseTo(3 / units.reduce((sum, { rentalDays }) => sum + rentalDays, 0), 10);
  });

  test('an outlet is the room’s fault, not the unit’s; two phones in one night tell of one fault', async () => {
    const desk = await nightDesk();
    await deadOutlet(desk, LOWEN);
    await deadOutlet(desk, LOWENS_OTHER_PHONE);
    const { units, rooms } = await listsOf(desk).failing(30);
    expect(verdicts(units)).toEqual([]);
    expect(verdicts(rooms)).toEqual([['Tarnhook Condominiums, A2', 1, 1, 'fine']]);
  });

  test('what is older than the days asked for, and what was never rented, does not count', async () => {
    const desk = await nightDesk();
    await silentUnit(desk, GUEST);
    await desk.setClock(after(desk.now(), 'PT2400H'));
    expect((await listsOf(desk).failing(30)).units).toEqual([]);
    await expect(listsOf(desk).failing(0)).rejects.toThrow(/days: 0 is not a whole number from 1 to 1000/);
    await expect(listsOf(desk).failing(Number.NaN)).rejects.toThrow(RangeError);
  });
});

describe('what was said', () => {
  test('and not understood is grouped, the most frequent first, with its step; long numbers are left out', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'it won’t start');
    await desk.text(GUEST, 'Purple Elephant!');
    await desk.text(LOWEN, 'it won’t start');
    await desk.text(LOWEN, 'purple elephant');
    await desk.text(LOWEN, 'zxqv wvut, 970 555 0134');
    const said = await listsOf(desk).notUnderstood(7);
    expect(said.map(({ words, times, lang, step }) => [words, times, lang, step])).toEqual([
      ['Purple Elephant!', 2, 'en', 'power.listen-at-the-switch'],
      ['zxqv wvut, (number)', 1, 'en', 'power.listen-at-the-switch'],
    ]);
  });

  test('and answered with silence shows at its step; an answer that was understood does not', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'it won’t start');
    await desk.text(GUEST, TONE);
    await desk.pass('PT5H');
    await desk.text(LOWEN, 'it won’t start');
    await desk.text(LOWEN, 'purple elephant');
    const steps = await listsOf(desk).hardSteps(7);
    expect(steps.map(({ step, lang, asked, missed, gaveUp }) => [step, lang, asked, missed, gaveUp])).toEqual([
      ['power.listen-at-the-switch', 'en', 2, 1, 0],
      ['power.other-wall', 'en', 1, 0, 1],
    ]);
  });

  test('costs its text parts, both ways, at the price that is set', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'thank you');
    const entries = await desk.look(async (tx) => tx.entries((await tx.latestConversation(GUEST))?.id ?? 0));
    expect(entries.map(({ who }) => who)).toEqual(['guest', 'desk']);
    const [all] = await listsOf(desk, 0.8).costs(7);
    expect(all).toMatchObject({
      conversations: 1,
      partsIn: 1,
      medianParts: 1 + all.partsOut,
      mostParts: 1 + all.partsOut,
    });
    expect(all.cents).toBeCloseTo(0.8 * (1 + all.partsOut), 10);
    expect((await listsOf(desk).costs(7))[0].cents).toBeNull();
  });

  test('costs no text parts for what is said on the phone, only for what is texted besides', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('the unit does not start, no sound at all');
    await caller.say('one long tone');
    expect((await listsOf(exchange.desk).costs(7))[0]).toMatchObject({ conversations: 1, partsIn: 0, partsOut: 0 });
    await caller.hangUp();
    const [cutOff = ''] = exchange.desk.carrier.textsTo(GUEST);
    expect(cutOff).toMatch(/^We were cut off/);
    const { parts } = textParts(cutOff);
    expect((await listsOf(exchange.desk).costs(7))[0]).toMatchObject({ partsIn: 0, partsOut: parts });
    const now = exchange.desk.now();
    const { conversations } = await exchange.desk.pages.records.counted(after(now, '-PT24H'), after(now, 'PT1S'));
    expect(conversations.map(({ deskTexts }) => deskTexts)).toEqual([[cutOff]]);
  });
});

describe('the deliveries of a day', () => {
  test('show what is known of the room’s outlets, the load with a heater, and both times of the bottle', async () => {
    const desk = await nightDesk();
    await deadOutlet(desk, LOWEN);
    await desk.text(LOWEN, 'by the window');
    await desk.setClock(instantOf('2026-12-05T09:00:00-07:00'));
    await moveIn(desk, '+19705550151', { property: 'Tarnhook Condominiums', room: 'A2', unit: 'NB-05' });
    await moveIn(desk, '+19705550152', { property: 'Tarnhook Condominiums', room: 'a2', unit: 'NB-06' });
    const deliveries = await listsOf(desk).deliveries('2026-12-05');
    expect(deliveries.map(({ stay, unitsInRoom }) => [stay.unit.tag, unitsInRoom])).toEqual([
      ['NB-05', 2],
      ['NB-06', 2],
    ]);
    const [first] = deliveries;
    expect(first?.outlets[0]).toMatchObject({ place: 'window', worked: 1, failed: 0 });
    expect(first?.load).toMatchObject({
      alone: { amps: 10, verdict: 'fits' },
      withHeater: { amps: 22.5, verdict: 'trips' },
    });
    expect(first?.bottle).toMatchObject({ hours: 24, trade: { earliest: 24, latest: 36 } });
    expect(first?.bottle.computed?.earliest).toBeGreaterThan(24);
    expect(await listsOf(desk).deliveries('2026-12-04')).toEqual([]);
  });

  test('name a unit that is to be pulled for service', async () => {
    const desk = await nightDesk();
    for (const _night of [1, 2, 3]) {
      await silentUnit(desk, GUEST);
      await nextNight(desk);
    }
    await nextNight(desk);
    await moveIn(desk, '+19705550151', { property: 'Inn at Sixpenny Tarn', room: '9', unit: 'NB-01' });
    const deliveries = await listsOf(desk).deliveries('2026-11-29');
    expect(deliveries.map(({ stay, toPull }) => [stay.unit.tag, toPull])).toEqual([['NB-01', true]]);
  });
});
