import { describe, expect, test } from 'vitest';
import { textParts } from '../../src/care/text-parts.ts';
import { BRAM, GUEST, nightDesk, openCalloutsOf } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

/** Marlstone Lodge: Perrin Aldwick in 204 (GUEST), Hesper Wicklowe in 118, fragile. Merrin Tolverne has 301 and 302 there. */
const FRAGILE_NEIGHBOUR = '+19705550106';
/** Tobin Farrowgate, Inn at Sixpenny Tarn, 12. */
const ELSEWHERE = '+19705550103';

/** Says that the power is out, and the lights too: a matter for a human. */
async function dark(desk: NightDesk, phone: string, room?: string): Promise<void> {
  await desk.text(phone, room === undefined ? 'the power is out' : `the power is out in room ${room}`);
  for (let step = 0; step < 5 && !(await hasCallout(desk, phone)); step += 1)
    await desk.text(phone, 'the lights are out too');
  expect(await hasCallout(desk, phone), `no callout for ${phone}`).toBe(true);
}

async function hasCallout(desk: NightDesk, phone: string): Promise<boolean> {
  return (await openCalloutsOf(desk, phone)).length > 0;
}

const building = (desk: NightDesk, phone: string): number =>
  desk.carrier.textsTo(phone).filter((text) => /Other rooms at Marlstone Lodge.*the building, not your unit/.test(text))
    .length;

describe('power matters of several rooms at one property', () => {
  test('within half an hour are one callout, and ring nobody once more', async () => {
    const desk = await nightDesk();
    await dark(desk, GUEST);
    await dark(desk, '+19705550110', '301');
    expect(await openCalloutsOf(desk, '+19705550110')).toEqual(await openCalloutsOf(desk, GUEST));
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ matter: 'no power in 2 rooms', urgency: 'tonight' }]);
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
  });

  test('tell each guest once that it is the building, and what to do meanwhile', async () => {
    const desk = await nightDesk();
    await dark(desk, GUEST);
    expect(building(desk, GUEST)).toBe(0);
    await dark(desk, '+19705550110', '301');
    expect([building(desk, GUEST), building(desk, '+19705550110')]).toEqual([1, 1]);
    expect(desk.carrier.textsTo(GUEST).at(-1)).toMatch(/Sit and rest.*No grill.*911/);
  });

  test('are listed in the next round’s brief, in two text parts', async () => {
    const desk = await nightDesk();
    await dark(desk, GUEST);
    await dark(desk, '+19705550110', '301');
    await desk.text(BRAM, 'PASS');
    const brief = desk.carrier.sent.findLast((text) => text.body.includes('TAKE 1'))?.body ?? '';
    expect(brief).toMatch(/no power in 2 rooms\. Marlstone Lodge, 2 rooms: 204.*301/);
    expect(textParts(brief).parts).toBeLessThanOrEqual(2);
  });

  test('reach who has taken it, and all guests hear who that is', async () => {
    const desk = await nightDesk();
    await dark(desk, GUEST);
    await desk.text(BRAM, 'TAKE');
    await dark(desk, '+19705550110', '301');
    expect(desk.carrier.textsTo(BRAM).at(-1)).toMatch(/Callout 1, one more room.*301/);
    await desk.text(BRAM, 'TELL the panel is being reset');
    for (const phone of [GUEST, '+19705550110']) {
      expect(desk.carrier.textsTo(phone).at(-1)).toBe('Bram: the panel is being reset');
    }
    await desk.text('+19705550110', 'thank you');
    expect(desk.carrier.textsTo(BRAM).at(-1)).toMatch(/^Callout 1, 301, the guest: "thank you"/);
  });

  test('half an hour apart are two callouts', async () => {
    const desk = await nightDesk();
    await dark(desk, GUEST);
    await desk.pass('PT31M');
    await dark(desk, '+19705550110', '301');
    expect((await openCalloutsOf(desk, '+19705550110')).map((callout) => callout.id)).toEqual([2]);
    expect(building(desk, GUEST)).toBe(0);
  });

  test('at another property are another callout', async () => {
    const desk = await nightDesk();
    await dark(desk, GUEST);
    await dark(desk, ELSEWHERE);
    expect((await openCalloutsOf(desk, ELSEWHERE)).map((callout) => callout.id)).toEqual([2]);
  });

  test('of a closed callout do not join it', async () => {
    const desk = await nightDesk();
    await dark(desk, GUEST);
    await desk.text(BRAM, 'TAKE');
    await desk.text(BRAM, 'DONE panel reset');
    await dark(desk, '+19705550110', '301');
    expect((await openCalloutsOf(desk, '+19705550110')).map((callout) => callout.id)).toEqual([2]);
  });

  test('another matter at the property is not one of them', async () => {
    const desk = await nightDesk();
    await dark(desk, GUEST);
    await desk.text('+19705550110', 'I want to talk to a person about room 301');
    expect((await openCalloutsOf(desk, '+19705550110')).map((callout) => callout.id)).toEqual([2]);
  });

  test('with danger among them: danger has its own callout, and the rooms’ goes on', async () => {
    const desk = await nightDesk();
    await dark(desk, GUEST);
    await dark(desk, '+19705550110', '301');
    await desk.text(GUEST, 'my husband has blue lips');
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([
      { urgency: 'danger', status: 'ringing' },
      { urgency: 'tonight', status: 'ringing' },
    ]);
    await desk.text(FRAGILE_NEIGHBOUR, "it won't turn on");
    expect(await openCalloutsOf(desk, FRAGILE_NEIGHBOUR)).toMatchObject([{ urgency: 'danger' }]);
  });
});
