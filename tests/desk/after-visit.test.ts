import { describe, expect, test } from 'vitest';
import { BRAM, GUEST, conversationOf, nightDesk } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

const A_PERSON = 'I want to talk to a person';
const asked = (desk: NightDesk) => desk.carrier.textsTo(GUEST).filter((text) => text.includes('still running well'));

/** A technician was called out by some words, and is done. */
async function visited(words: string): Promise<NightDesk> {
  const desk = await nightDesk();
  await desk.text(GUEST, words);
  await desk.text(BRAM, 'TAKE 1');
  await desk.pass('PT40M');
  await desk.text(BRAM, 'DONE 1 changed the hose');
  return desk;
}

describe('after a technician was there', () => {
  test('the guest is asked once, a quarter of an hour later, at night as well, whether all is still well', async () => {
    const desk = await visited(A_PERSON);
    await desk.pass('PT14M59S');
    expect(asked(desk)).toEqual([]);
    await desk.pass('PT1S');
    expect(asked(desk)).toHaveLength(1);
    expect(await desk.text(GUEST, 'yes')).toMatch(/Rest well/);
    expect((await conversationOf(desk, GUEST)).ending).toBe('settled');
    await desk.pass('PT3H');
    expect(asked(desk)).toHaveLength(1);
  });

  test('and a fault that came back brings a person again', async () => {
    const desk = await visited(A_PERSON);
    await desk.pass('PT15M');
    await desk.text(GUEST, 'no');
    await desk.text(GUEST, 'yes');
    expect(desk.carrier.textsTo(BRAM).at(-1)).toMatch(/TAKE 2/);
  });

  test('a guest who has written since is not asked', async () => {
    const desk = await visited(A_PERSON);
    await desk.text(GUEST, 'thank you so much');
    await desk.pass('PT1H');
    expect(asked(desk)).toEqual([]);
  });

  test('nobody is asked after danger: only humans speak of its end', async () => {
    const desk = await visited('my husband has blue lips');
    await desk.pass('PT1H');
    expect(asked(desk)).toEqual([]);
  });

  test('a guest who takes no texts gets none', async () => {
    const desk = await visited(A_PERSON);
    await desk.text(GUEST, 'STOP');
    await desk.pass('PT1H');
    expect(asked(desk)).toEqual([]);
  });
});
