import { describe, expect, test } from 'vitest';
import { DOES_NOT_START, LITTLE_QUESTION, littleBook } from './little-flow.ts';
import {
  BRAM,
  GUEST,
  INES,
  NIGHT,
  STRANGER,
  conversationOf,
  entriesOf,
  firstSentence,
  nightDesk,
  openCalloutsOf,
} from './night-desk.ts';

const BLUE_LIPS = 'my husband has blue lips';

describe('a danger text', () => {
  test('as the very first: the number in the first sentence, the place, and the first technician is texted', async () => {
    const desk = await nightDesk();
    const reply = await desk.text(GUEST, BLUE_LIPS);
    expect(firstSentence(reply)).toMatch(/\b911\b/);
    expect(reply).toContain('14 Marlstone Way, Quillmere Basin, 204');
    const [brief, ...more] = desk.carrier.textsTo(BRAM);
    expect(more).toEqual([]);
    for (const part of ['DANGER', 'Perrin Aldwick', '(970) 555-0101', 'Marlstone Lodge, 204', BLUE_LIPS, 'TAKE 1']) {
      expect(brief).toContain(part);
    }
    // 911 from elsewhere reaches the wrong centre, so the technician gets the dispatch centre's own number.
    expect(brief).toContain('Dispatch (970) 555-0180');
    expect(desk.carrier.textsTo(INES)).toEqual([]);
    expect((await conversationOf(desk, GUEST)).ending).toBe('emergency');
  });

  test('in the middle of a flow does the same', async () => {
    const desk = await nightDesk({ book: littleBook() });
    await desk.text(GUEST, DOES_NOT_START);
    const reply = await desk.text(GUEST, BLUE_LIPS);
    expect(firstSentence(reply)).toMatch(/\b911\b/);
    expect(reply).toContain('14 Marlstone Way, Quillmere Basin, 204');
    expect(desk.carrier.textsTo(BRAM).join()).toContain('DANGER');
  });

  test('from a number nobody knows gets the same help, and is asked where, without holding the rest back', async () => {
    const desk = await nightDesk();
    const reply = await desk.text(STRANGER, BLUE_LIPS);
    expect(firstSentence(reply)).toMatch(/\b911\b/);
    expect(reply).toMatch(/address and room/);
    expect(desk.carrier.textsTo(BRAM).join()).toMatch(/DANGER.*Place not known/);
  });

  test('from a phone with two rooms sends nobody to the wrong one', async () => {
    const desk = await nightDesk();
    const reply = await desk.text('+19705550110', BLUE_LIPS);
    expect(reply).not.toContain('Marlstone');
    expect(reply).toMatch(/address and room/);
  });

  test('after another one opens no second callout', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    const reply = await desk.text(GUEST, 'he is not breathing');
    expect(firstSentence(reply)).toMatch(/\b911\b/);
    expect(await openCalloutsOf(desk, GUEST)).toHaveLength(1);
  });

  test('over a fault that was handed on becomes one callout, for danger', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'I want to talk to a person');
    await desk.text(GUEST, BLUE_LIPS);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ urgency: 'danger', status: 'ringing' }]);
  });

  test('a dead unit of a fragile guest is danger without any sign', async () => {
    const desk = await nightDesk();
    const reply = await desk.text('+19705550104', DOES_NOT_START);
    expect(firstSentence(reply)).toMatch(/\b911\b/);
    expect(reply).toContain('88 Thistlemark Track, Quillmere Basin, Cabin 4');
    expect(desk.carrier.textsTo(BRAM).join()).toMatch(/DANGER.*fragile/);
  });
});

describe('the danger questions', () => {
  async function asked() {
    const desk = await nightDesk({ book: littleBook() });
    await desk.text(GUEST, DOES_NOT_START);
    const question = await desk.text(GUEST, 'HELP');
    expect(question).toMatch(/blue or gray lips\?.*YES or NO/);
    expect(desk.carrier.sent).toEqual([]);
    return desk;
  }

  test.for(['yes', 'Yes she is', 'partly', "I don't know", 'maybe', 'xqzv plorf', 'ok', 'back', '???', ''])(
    'answered "%s" are an emergency, with a callout',
    async (answer) => {
      const desk = await asked();
      expect(firstSentence(await desk.text(GUEST, answer))).toMatch(/\b911\b/);
      expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ urgency: 'danger' }]);
      expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
    },
  );

  test('answered "no" lead back to the question that stood, which can then be answered', async () => {
    const desk = await asked();
    expect(await desk.text(GUEST, 'no')).toBe(LITTLE_QUESTION);
    expect(await openCalloutsOf(desk, GUEST)).toEqual([]);
    expect(await desk.text(GUEST, 'yes')).toBe('Good night then.');
  });

  test('are asked again after 3 minutes of silence, and after 6 a danger callout rings', async () => {
    const desk = await asked();
    await desk.pass('PT2M59S');
    expect(desk.carrier.sent).toEqual([]);
    await desk.pass('PT1S');
    expect(desk.carrier.textsTo(GUEST).join()).toMatch(/no answer yet.*YES or NO/);
    await desk.pass('PT2M59S');
    expect(desk.carrier.textsTo(BRAM)).toEqual([]);
    await desk.pass('PT1S');
    expect(desk.carrier.textsTo(BRAM).join()).toMatch(/DANGER.*Marlstone Lodge, 204/);
    expect(firstSentence(desk.carrier.textsTo(GUEST).at(-1) ?? '')).toMatch(/\b911\b/);
    expect((await conversationOf(desk, GUEST)).ending).toBe('emergency');
  });

  test('answered in time are not asked again', async () => {
    const desk = await asked();
    await desk.pass('PT2M');
    await desk.text(GUEST, 'no');
    await desk.pass('PT10M');
    expect(desk.carrier.sent).toEqual([]);
  });

  test('are not cut short by the silence of an earlier question', async () => {
    const desk = await asked();
    await desk.pass('PT2M');
    await desk.text(GUEST, 'no');
    await desk.text(GUEST, 'help!');
    await desk.pass('PT2M');
    expect(desk.carrier.sent).toEqual([]);
    await desk.pass('PT1M');
    expect(desk.carrier.textsTo(GUEST)).toHaveLength(1);
  });

  test('come first when someone only feels unwell', async () => {
    const desk = await nightDesk();
    expect(await desk.text(GUEST, 'i feel dizzy')).toMatch(/blue or gray lips\?.*YES or NO/);
    expect(firstSentence(await desk.text(GUEST, 'yes'))).toMatch(/\b911\b/);
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
  });

  test('leave what was heard and what was decided in the records', async () => {
    const desk = await asked();
    await desk.text(GUEST, 'yes');
    const guest = (await entriesOf(desk, GUEST)).filter((entry) => entry.who === 'guest');
    expect(guest.map((entry) => (entry.heard as { danger: string }).danger)).toEqual(['none', 'ask', 'none']);
    expect(guest.map((entry) => entry.step)).toEqual([null, 'little.question', 'danger.questions']);
    expect(guest.every((entry) => entry.at === NIGHT)).toBe(true);
  });
});

describe('after the emergency reply', () => {
  test('two quiet minutes bring the question whether someone has called', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    await desk.pass('PT2M');
    expect(desk.carrier.textsTo(GUEST).join()).toMatch(/called 911\?/);
  });

  test('a guest who cannot call is given other ways, and the technician learns it', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    expect(await desk.text(GUEST, 'cannot')).toContain('+19705550181');
    expect(desk.carrier.textsTo(BRAM).at(-1)).toMatch(/cannot call.*dispatch/);
  });

  test('"all well" lets the guest talk about the unit again, and closes no callout', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, BLUE_LIPS);
    expect(await desk.text(GUEST, 'all well')).toMatch(/sure/);
    expect(await desk.text(GUEST, 'yes')).toMatch(/unit/);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ urgency: 'danger', status: 'ringing' }]);
    expect(desk.carrier.textsTo(BRAM).some((text) => text.includes('all is well'))).toBe(true);
  });
});
