import { describe, expect, test } from 'vitest';
import { BRAM, GUEST, INES, conversationOf, nightDesk, openCalloutsOf } from '../desk/night-desk.ts';
import { Exchange } from './exchange.ts';
import { callDesk, listenFor, untilWaiting } from './call-desk.ts';

const EMERGENCY = /^Hang up and call 9 1 1 now\. Say: 14 Marlstone Way, Quillmere Basin, 2 0 4\./;

describe('danger on the phone', () => {
  test('is answered with hanging up, 911 and the address; people are rung, and the words go to the phone as a text', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('my husband cannot breathe and his lips are blue');
    expect(caller.last).toMatch(EMERGENCY);
    expect((await openCalloutsOf(exchange.desk, GUEST)).map(({ urgency }) => urgency)).toEqual(['danger']);
    expect(exchange.desk.carrier.calls.map(({ to }) => to)).toEqual([BRAM]);
    expect(exchange.desk.carrier.textsTo(GUEST)).toEqual([expect.stringMatching(/^Call 911 now.*14 Marlstone Way/)]);
  });

  test('frees the line: silence has it said once more, and then the desk hangs up', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('my husband cannot breathe and his lips are blue');
    await caller.silent();
    expect(caller.last).toMatch(EMERGENCY);
    await caller.silent();
    expect([caller.at, caller.last]).toEqual(['over', 'I hang up now so that your phone is free. Call 9 1 1.']);
  });

  test('frees the line when nobody has called yet', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('my husband cannot breathe and his lips are blue');
    await caller.press('2');
    expect([caller.at, caller.last]).toEqual(['over', expect.stringMatching(/call 9 1 1 now.*I hang up now/)]);
  });

  test.for([
    ['1', 'yes someone else is on the phone with them'],
    ['3', 'no I cannot call'],
  ] as const)(
    'holds the caller only who presses %s or says "%s", and puts through whoever takes it',
    async ([key, words]) => {
      for (const by of ['key', 'voice']) {
        const exchange = await callDesk();
        exchange.doTo(BRAM, 'does not answer');
        exchange.doTo(INES, { presses: ['1'] });
        const caller = await exchange.call(GUEST);
        await caller.say('my husband cannot breathe and his lips are blue');
        if (by === 'key') await caller.press(key);
        else await caller.say(words);
        await untilWaiting(caller);
        await caller.wait('PT5M');
        expect([caller.talked, caller.at], by).toEqual([1, 'over']);
      }
    },
  );

  test('in a fire says to get out first', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('there is a fire in the room');
    expect(caller.last).toMatch(/^Get everyone out now\. Then hang up and call 9 1 1 from outside\./);
  });

  test('is heard at any question, and while something long is said', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('the unit does not start, no sound at all');
    expect(caller.last).toMatch(/Say next/);
    await caller.say('wait, she is turning blue and gasping for air');
    expect(caller.last).toMatch(EMERGENCY);
  });

  test('that is over for the guest leads back to the unit', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('my husband cannot breathe and his lips are blue');
    await caller.press('4');
    expect(caller.last).toMatch(/^I am glad\. Are you sure/);
    await caller.say('yes');
    await listenFor(caller, /wrong with the unit/);
    expect((await openCalloutsOf(exchange.desk, GUEST)).length).toBe(1);
  });

  test('whoever asks for a person there is told to call 911 first', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('my husband cannot breathe and his lips are blue');
    await caller.press('0');
    await listenFor(caller, /Has someone called 9 1 1\?/);
    expect(caller.heard.join(' ')).toContain('Do not wait for them: call 9 1 1 first.');
  });
});

describe('a danger word that the recognition is not sure of', () => {
  test.for([0.05, 0.3, 0.49])('at confidence %s is asked about, never asked back', async (confidence) => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('he cannot breathe', confidence);
    await listenFor(caller, /trouble breathing at rest.*Chest pain\?/);
    await caller.say('yes');
    expect(caller.last).toMatch(EMERGENCY);
  });

  test('that is then denied goes on', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('he cannot breathe', 0.2);
    await listenFor(caller, /Say no, or press 2/);
    await caller.press('2');
    expect([caller.at, caller.heard.join(' ')]).toEqual(['listening', expect.not.stringContaining('Hang up and call')]);
    expect((await conversationOf(exchange.desk, GUEST)).ending).toBeNull();
  });

  test('and silence after it is an emergency: perhaps nobody can answer', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('he cannot breathe', 0.2);
    await listenFor(caller, /Say no, or press 2/);
    await caller.silent();
    expect(caller.last).toMatch(/^I have no answer yet\./);
    await caller.silent();
    expect(caller.last).toMatch(EMERGENCY);
    expect((await openCalloutsOf(exchange.desk, GUEST)).map(({ urgency }) => urgency)).toEqual(['danger']);
  });
});

describe('what the recognition is not sure of', () => {
  test('is asked back, and taken when the caller says yes', async () => {
    const exchange = new Exchange(await nightDesk());
    const caller = await exchange.call(GUEST);
    await caller.say('the unit does not start', 0.3);
    expect(caller.last).toBe(
      'I heard: the unit does not start. Is that right? Say yes or press 1. If not, say it again.',
    );
    await caller.say('yes');
    await listenFor(caller, /What do you hear/);
  });

  test('is said again when the caller says something else in its place', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('the unit does not start', 0.3);
    await caller.say('the water bottle is empty');
    await listenFor(caller, /water/);
    expect(caller.heard.join(' ')).not.toContain('What do you hear');
  });

  test('has no say where recognition does not tell how sure it is', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('the unit does not start, no sound at all', 0);
    expect(caller.last).toMatch(/^If the cord is hot or cut/);
  });

  test('noise is asked about once, and the second time a person is got', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('brrr krk', 0.1);
    expect(caller.last).toMatch(/^I did not hear that well\./);
    await listenFor(caller, /Press 1/);
    await caller.say('tschk', 0.1);
    expect(caller.heard.join(' ')).toContain('I do not hear you well, so I am getting a person for you.');
    await untilWaiting(caller);
  });

  test('silence gets time, and the second time a person', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('the unit does not start, no sound at all');
    await listenFor(caller, /What do you hear/);
    await caller.silent();
    expect(caller.last).toMatch(/^Take your time, I wait\./);
    await caller.silent();
    expect(caller.heard.join(' ')).toContain('I do not hear you well, so I am getting a person for you.');
    await untilWaiting(caller);
  });
});
