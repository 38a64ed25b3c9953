import { describe, expect, test } from 'vitest';
import { DOES_NOT_START, LITTLE_QUESTION, littleBook } from './little-flow.ts';
import { BRAM, GUEST, conversationOf, nightDesk, openCalloutsOf } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

const BLUE_LIPS = 'my husband has blue lips';

const idOf = async (desk: NightDesk, phone = GUEST): Promise<number> => (await conversationOf(desk, phone)).id;

describe('a conversation', () => {
  test('has given up after four quiet hours, and a text after that begins a new one', async () => {
    const desk = await nightDesk({ book: littleBook() });
    await desk.text(GUEST, DOES_NOT_START);
    await desk.pass('PT3H59M59S');
    expect((await conversationOf(desk, GUEST)).ending).toBeNull();
    await desk.pass('PT1S');
    expect(await conversationOf(desk, GUEST)).toMatchObject({ ending: 'gave-up', endedAt: desk.now() });
  });

  test('counts its quiet hours from the last text', async () => {
    const desk = await nightDesk({ book: littleBook() });
    await desk.text(GUEST, DOES_NOT_START);
    await desk.pass('PT3H');
    await desk.text(GUEST, 'say that again');
    await desk.pass('PT3H59M');
    expect((await conversationOf(desk, GUEST)).ending).toBeNull();
  });

  test('does not go quiet while a callout is open, taken or not', async () => {
    const desk = await nightDesk({ book: littleBook() });
    await desk.text(GUEST, BLUE_LIPS);
    await desk.text(GUEST, 'all well');
    await desk.text(GUEST, 'yes');
    await desk.text(BRAM, 'TAKE');
    const before = await conversationOf(desk, GUEST);
    expect(before.ending).toBeNull();
    await desk.pass('PT20H');
    expect((await conversationOf(desk, GUEST)).ending).toBeNull();
    await desk.text(GUEST, 'hello');
    expect(await idOf(desk)).toBe(before.id);
  });

  /** A conversation that ended well. */
  async function settled() {
    const desk = await nightDesk({ book: littleBook() });
    await desk.text(GUEST, DOES_NOT_START);
    expect(await desk.text(GUEST, 'yes')).toBe('Good night then.');
    const { id, ending } = await conversationOf(desk, GUEST);
    expect(ending).toBe('settled');
    return { desk, id };
  }

  test('is returned to by a text within twelve hours of its end', async () => {
    const { desk, id } = await settled();
    await desk.pass('PT11H59M59S');
    await desk.text(GUEST, DOES_NOT_START);
    expect(await idOf(desk)).toBe(id);
  });

  test('is not returned to after twelve hours: the text begins a new one', async () => {
    const { desk, id } = await settled();
    await desk.pass('PT12H');
    expect(await desk.text(GUEST, DOES_NOT_START)).toBe(LITTLE_QUESTION);
    expect(await idOf(desk)).not.toBe(id);
  });

  test('stays ended under "thanks", which opens nothing', async () => {
    const { desk, id } = await settled();
    expect(await desk.text(GUEST, 'thanks')).toMatch(/welcome/i);
    expect(await conversationOf(desk, GUEST)).toMatchObject({ id, ending: 'settled' });
    expect(await openCalloutsOf(desk, GUEST)).toEqual([]);
    await desk.pass('PT4H');
    expect([...desk.carrier.textsTo(GUEST), ...desk.carrier.textsTo(BRAM)]).toEqual([]);
  });

  test('goes on when the trouble is still there', async () => {
    const { desk, id } = await settled();
    expect(await desk.text(GUEST, "it still won't turn on")).toBe(LITTLE_QUESTION);
    expect(await conversationOf(desk, GUEST)).toMatchObject({ id, ending: null, endedAt: null });
  });

  test('that ended is danger as soon as its guest writes danger', async () => {
    const { desk } = await settled();
    expect(await desk.text(GUEST, BLUE_LIPS)).toMatch(/^Call 911 now/);
    expect(await openCalloutsOf(desk, GUEST)).toHaveLength(1);
  });

  test('of one phone is none of another’s', async () => {
    const { desk, id } = await settled();
    await desk.text('+19705550102', 'thanks');
    expect(await idOf(desk, '+19705550102')).not.toBe(id);
  });
});

describe('ten equal replies in a row', () => {
  async function repeated(times: number) {
    const desk = await nightDesk({ book: littleBook() });
    const replies = [await desk.text(GUEST, DOES_NOT_START)];
    for (let count = 1; count < times; count += 1) replies.push(await desk.text(GUEST, 'say that again'));
    return { desk, replies };
  }

  test('are all sent, then the desk is silent and a person is asked to look', async () => {
    const { desk, replies } = await repeated(10);
    expect(new Set(replies)).toEqual(new Set([LITTLE_QUESTION]));
    expect(desk.carrier.sent).toEqual([]);
    expect(await desk.text(GUEST, 'say that again')).toBe('');
    expect(await desk.text(GUEST, 'say that again')).toBe('');
    expect(desk.carrier.textsTo(BRAM)).toEqual([expect.stringMatching(/same reply.*Marlstone Lodge, 204/)]);
  });

  test('silence nothing else: danger is answered, and so is an answer', async () => {
    const { desk } = await repeated(12);
    expect(await desk.text(GUEST, 'yes')).toBe('Good night then.');
    const other = await repeated(12);
    expect(await other.desk.text(GUEST, BLUE_LIPS)).toMatch(/^Call 911 now/);
  });

  test('of the emergency go on being said', async () => {
    const desk = await nightDesk();
    for (let count = 0; count < 13; count += 1) {
      expect(await desk.text(GUEST, BLUE_LIPS)).toMatch(/^Call 911 now/);
    }
  });
});
