import { describe, expect, test } from 'vitest';
import { LONGEST, STRANGER } from '../../src/flow/profiles.ts';
import { StateNotRestored, flowsOf, stepOfState, turn, turnOnSilence } from '../../src/flow/turn.ts';
import type { Turn } from '../../src/flow/turn.ts';
import type { Facts } from '../../src/flow/facts.ts';
import { NOTHING_HEARD } from '../../src/words/heard.ts';
import type { Heard } from '../../src/words/heard.ts';
import { lampBook } from './lamp-book.ts';

const FLOWS = flowsOf(lampBook().book);

const heard = (part: Partial<Heard>): Heard => ({ ...NOTHING_HEARD, lang: 'en', ...part });

const NO_POWER = heard({ topic: 'no-power' });
const EMPTY_BOTTLE = heard({ topic: 'humidifier-empty', answer: 'no-answer' });
const YES = heard({ answer: 'yes' });
const NO = heard({ answer: 'no' });
const BACK = heard({ move: 'back', answer: 'no-answer' });
const AGAIN = heard({ move: 'again', answer: 'no-answer' });
const MUMBLE = heard({ topic: 'unclear', answer: 'no-answer' });
const BLUE = heard({ danger: 'now', signs: ['cyanosis'] });
const WORRYING = heard({ danger: 'ask', signs: ['breathing'] });

/** The turns that the texts of one guest make, each from the state of the one before. */
function conversation(texts: readonly Heard[], facts: Facts = LONGEST): readonly Turn[] {
  const turns: Turn[] = [];
  for (const text of texts) {
    const input = { state: turns.at(-1)?.state ?? null, lang: 'en' as const, facts, current: FLOWS.book };
    turns.push(turn(FLOWS, input, text));
  }
  return turns;
}

function last(...texts: readonly Heard[]): Turn {
  return conversation(texts).at(-1) ?? expect.fail('no text');
}

const callouts = (moved: Turn) => moved.orders.filter((order) => order.order === 'callout');

describe('a fact that was known when the step was reached', () => {
  const unknownNow = (text: Heard, ...before: readonly Heard[]): Turn => {
    const { state } = last(...before);
    return turn(FLOWS, { state, lang: 'en', facts: { ...LONGEST, setting: null }, current: FLOWS.book }, text);
  };

  test.for([
    ['asked again', AGAIN, [NO_POWER, NO]],
    ['after a miss', MUMBLE, [NO_POWER, NO]],
    ['on the way back', BACK, [NO_POWER, NO, EMPTY_BOTTLE]],
  ] as const)(
    'and is not any more is never made up, nor is the guest left without an answer: %s',
    ([, text, before]) => {
      const moved = unknownNow(text, ...before);
      expect(last(...before, text).step).toBe('lamp.set-it');
      expect(moved.step).toBe('person.hand-over');
      expect(moved.lines.join('')).not.toMatch(/Set the ball/);
      expect(callouts(moved)).toHaveLength(1);
    },
  );
});

describe('a turn', () => {
  test('gives the same for the same input, and leaves that input as it was', () => {
    const { state } = last(NO_POWER);
    const input = { state, lang: 'en' as const, facts: LONGEST, current: FLOWS.book };
    expect(turn(FLOWS, input, NO)).toEqual(turn(FLOWS, input, NO));
    expect(stepOfState(FLOWS, state)).toBe('lamp.is-it-on');
  });

  test('goes on from a state that was written out and read in', () => {
    const { state } = last(NO_POWER);
    const stored = JSON.stringify(JSON.parse(state));
    const input = { state: stored, lang: 'en' as const, facts: LONGEST, current: FLOWS.book };
    expect(turn(FLOWS, input, NO).step).toBe('lamp.set-it');
  });

  test.for(['', 'null', '{}', '{"value":{"matter":{"lamp":"gone"}},"context":{},"status":"active"}', 'no JSON'])(
    'refuses the state %s',
    (state) => {
      expect(() => stepOfState(FLOWS, state)).toThrow(StateNotRestored);
      const input = { state, lang: 'en' as const, facts: LONGEST, current: FLOWS.book };
      expect(() => turn(FLOWS, input, YES)).toThrow(StateNotRestored);
      expect(() => turnOnSilence(FLOWS, input)).toThrow(StateNotRestored);
    },
  );

  test('says the guest’s own setting, and without one leads to a person', () => {
    expect(last(NO_POWER, NO).lines).toEqual(['Set the ball to 3.5 to 4.5. Is the lamp on now?']);
    const stranger = conversation([NO_POWER, NO], STRANGER).at(-1);
    expect(stranger?.step).toBe('person.hand-over');
  });

  test('says an ending when it comes to one', () => {
    expect(last(NO_POWER, YES)).toMatchObject({ step: 'lamp.good', ending: 'settled', inDanger: false, orders: [] });
  });
});

describe('back', () => {
  test('says the question before again, and its answer counts', () => {
    expect(last(NO_POWER, NO, BACK)).toMatchObject({
      step: 'lamp.is-it-on',
      lines: ['Is the lamp on? Reply YES or NO.'],
    });
    expect(last(NO_POWER, NO, BACK, YES).step).toBe('lamp.good');
  });

  test('leads back over a change of topic', () => {
    expect(last(NO_POWER, EMPTY_BOTTLE, BACK).step).toBe('lamp.is-it-on');
  });

  test('from the first question of a matter leads to what it is about, and from there no further', () => {
    expect(last(NO_POWER, BACK).step).toBe('opening.arrived');
    const moved = last(NO_POWER, BACK, BACK);
    expect(moved.step).toBe('opening.arrived');
    expect(moved.lines[0]).toBe(FLOWS.book.phrases.around['no-way-back'].en);
    expect(moved.lines[1]).toMatch(/^What is wrong\?/);
  });

  test('never leads into danger', () => {
    expect(last(NO_POWER, NO, WORRYING, NO, BACK).step).toBe('lamp.is-it-on');
  });
});

test('"again" repeats the question and changes nothing', () => {
  const [before, after] = conversation([NO_POWER, AGAIN]);
  expect(after?.lines).toEqual(before?.lines);
  expect(last(NO_POWER, AGAIN, NO).step).toBe('lamp.set-it');
});

describe('a text that is not understood', () => {
  test('is asked once more, and the second in a row brings a person', () => {
    const [, first, second] = conversation([NO_POWER, MUMBLE, MUMBLE]);
    expect(first?.step).toBe('lamp.is-it-on');
    expect(first?.lines.at(-1)).toBe('Is the lamp on? Reply YES or NO.');
    expect(callouts(first ?? expect.fail())).toEqual([]);
    expect(second?.step).toBe('person.hand-over');
    expect(callouts(second ?? expect.fail())).toMatchObject([{ urgency: 'tonight' }]);
  });

  test('does not count against the next question', () => {
    expect(last(NO_POWER, MUMBLE, NO, MUMBLE).step).toBe('lamp.set-it');
  });

  test('"I do not know" is none: it has its own way on', () => {
    expect(last(NO_POWER, heard({ answer: 'unsure' })).step).toBe('person.hand-over');
  });
});

describe('another topic', () => {
  test('is taken up where a question stands', () => {
    expect(last(NO_POWER, EMPTY_BOTTLE).step).toBe('bottle.is-it-full');
  });

  test('does not throw a guest back to the start of the matter they are in', () => {
    const moved = last(NO_POWER, NO, heard({ topic: 'no-power', answer: 'no-answer' }));
    expect(moved.step).toBe('lamp.set-it');
  });

  test('opens again after an end', () => {
    expect(last(NO_POWER, YES, NO_POWER).step).toBe('lamp.is-it-on');
  });
});

describe('danger', () => {
  test.for([
    ['first', []],
    ['at a question', [NO_POWER]],
    ['at the danger questions', [NO_POWER, WORRYING]],
    ['after the emergency', [BLUE]],
    ['after an end', [NO_POWER, YES]],
    ['after the hand-over', [heard({ move: 'person' })]],
  ] as const)('%s is the emergency, with a callout that names the sign', ([, before]) => {
    const moved = last(...before, BLUE);
    expect(moved).toMatchObject({ step: 'danger.emergency', inDanger: true, ending: 'emergency' });
    expect(moved.lines[0]).toMatch(/^Call 911 now/);
    expect(callouts(moved)).toMatchObject([{ urgency: 'danger', signs: expect.arrayContaining(['cyanosis']) }]);
  });

  test('denied leads back to where it interrupted, and the signs no longer count', () => {
    expect(last(NO_POWER, NO, WORRYING, NO).step).toBe('lamp.set-it');
    const later = last(NO_POWER, NO, WORRYING, NO, BLUE);
    expect(callouts(later)).toMatchObject([{ signs: ['cyanosis'] }]);
  });

  test('denied leads to a topic that was named beside it', () => {
    const both = heard({ danger: 'ask', signs: ['breathing'], topic: 'humidifier-empty' });
    expect(last(NO_POWER, both, NO).step).toBe('bottle.is-it-full');
  });

  test('met with silence is asked again, and then is the emergency', () => {
    const asked = last(NO_POWER, WORRYING);
    expect(asked.orders).toContainEqual({ order: 'listen', after: 'PT3M', step: 'danger.questions' });
    const input = { lang: 'en' as const, facts: LONGEST, current: FLOWS.book };
    const again = turnOnSilence(FLOWS, { ...input, state: asked.state });
    expect(again).toMatchObject({ step: 'danger.questions-again', inDanger: true });
    const silent = turnOnSilence(FLOWS, { ...input, state: again.state });
    expect(silent.lines[0]).toMatch(/^Call 911 now/);
    expect(callouts(silent)).toHaveLength(1);
  });

  test('is said in today’s words, whatever flows the conversation is on', () => {
    const first = { en: 'Call {emergency-number} at once.', es: 'Llame ya al {emergency-number}.' };
    const current = { ...FLOWS.book, emergency: { ...FLOWS.book.emergency, first } };
    const moved = turn(FLOWS, { state: null, lang: 'en', facts: LONGEST, current }, BLUE);
    expect(moved.lines[0]).toMatch(/^Call 911 at once\./);
  });
});

test('a person on request is handed over to in one reply, and in danger is tried without closing anything', () => {
  expect(callouts(last(NO_POWER, heard({ move: 'person' })))).toMatchObject([{ urgency: 'tonight' }]);
  expect(last(BLUE, heard({ move: 'person' }))).toMatchObject({ step: 'danger.person-asked', inDanger: true });
});
