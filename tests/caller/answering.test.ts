import { describe, expect, test } from 'vitest';
import { GUEST, LOWEN, LOWENS_OTHER_PHONE, STRANGER, conversationOf, entriesOf } from '../desk/night-desk.ts';
import { postSigned } from '../desk/signed-posts.ts';
import { callDesk, listenFor } from './call-desk.ts';

const PERSON = /Stay on the line\. I am ringing the person on call/;

describe('a call to the desk', () => {
  test('begins with who this is and what to do in danger, offers the other language, and asks what is wrong', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    expect(caller.heard[0]).toBe(
      'This is the night desk of Quillmere Basin Oxygen. If someone is in danger, hang up and call 9 1 1. Para español, marque 9.',
    );
    await listenFor(caller, /^What is wrong\?.*Press 1 for it will not start/);
  });

  test('is the same conversation in the same machine as texts, and reads like a thread', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say("it won't stop beeping");
    await listenFor(caller, /What do you hear/);
    await caller.press('1');
    const { state } = await conversationOf(exchange.desk, GUEST);
    const entries = await entriesOf(exchange.desk, GUEST);
    expect(JSON.parse(state)).toMatchObject({ value: expect.objectContaining({ matter: expect.anything() }) });
    expect(entries.filter(({ who }) => who === 'guest').map(({ words, step }) => [words, step])).toEqual([
      ["it won't stop beeping", null],
      [expect.stringMatching(/^\[1\] /), expect.stringMatching(/^(power|alarm)\./)],
    ]);
    expect(entries.filter(({ who }) => who === 'desk').map(({ words }) => words)).toEqual(
      expect.arrayContaining([expect.stringContaining('What do you hear')]),
    );
  });

  test('is settled, offers more, says good night to silence and hangs up', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('the unit does not start, no sound at all');
    await listenFor(caller, /What do you hear/);
    await caller.say('one short beep');
    await listenFor(caller, /If that is all, just hang up/);
    expect(caller.heard.join(' ')).toContain(
      'one short beep means it has power. The middle of the ball should be at 2,',
    );
    await caller.silent();
    expect([caller.at, caller.last]).toEqual(['over', 'Good night. Call or text this number at any hour.']);
    expect((await conversationOf(exchange.desk, GUEST)).ending).toBe('settled');
  });

  test('gives speech and keys at once, with what people may say as hints, and lets them interrupt', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('the alarm is on and off');
    await listenFor(caller, /What do you hear/);
    expect(caller.gather.attributes).toMatchObject({
      input: 'dtmf speech',
      language: 'en-US',
      bargeIn: 'true',
      actionOnEmptyResult: 'true',
      profanityFilter: 'false',
    });
    const hints = caller.gather.attributes['hints'] ?? '';
    expect(hints.split(',')).toEqual(expect.arrayContaining(['one short beep', 'person', "can't breathe"]));
  });
});

describe('the language', () => {
  test('changes by one key, in the middle of a question too, and is remembered for the whole rental', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(LOWEN);
    await caller.press('9');
    expect(caller.last).toMatch(/^En español, entonces\. ¿Qué pasa\?/);
    expect(caller.gather.attributes['language']).toBe('es-MX');
    await caller.hangUp();
    const other = await exchange.call(LOWENS_OTHER_PHONE);
    expect(other.last).toMatch(/^Le habla la mesa nocturna de Quillmere Basin Oxygen\..*For English, press 9\./);
    await other.press('9');
    expect(other.last).toMatch(/^English, then\./);
    await listenFor(other, /What is wrong\?/);
  });

  test('is offered in itself: the sentence has the voice of its language', async () => {
    const exchange = await callDesk();
    await exchange.call(GUEST);
    expect(exchange.prompts[0]?.map(({ lang }) => lang)).toEqual(['en', 'es']);
  });
});

describe('a hidden or unknown number', () => {
  test('is asked for the unit by tag or digits, by key or voice, and the address is known then', async () => {
    const exchange = await callDesk();
    const keyed = await exchange.call(null);
    expect(keyed.last).toMatch(/I cannot see your number\. Which unit is it\?/);
    await keyed.press('01#');
    expect(keyed.last).toBe('Thank you, I have you at 2 0 4.');
    await keyed.say('my husband cannot breathe');
    expect(keyed.last).toMatch(/^Hang up and call 9 1 1 now\. Say: 14 Marlstone Way, Quillmere Basin, 2 0 4\./);

    const spoken = await exchange.call(STRANGER);
    expect(spoken.last).toMatch(/Which unit is it\?/);
    expect(spoken.last).not.toMatch(/cannot see your number/);
    await spoken.say('N B 07');
    expect(spoken.last).toMatch(/^Thank you, I have you at/);
  });

  test('still reaches a person, who is told that it is hidden; nothing is texted or rung there', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(null);
    await caller.press('0');
    await listenFor(caller, PERSON);
    await exchange.pass('PT10M');
    const { sent, calls } = exchange.desk.carrier;
    expect(sent.length).toBeGreaterThan(0);
    expect(sent[0]?.body).toMatch(/number hidden/);
    expect(sent[0]?.body).not.toMatch(/TEXTS BLOCKED/);
    expect([...sent, ...calls].filter(({ to }) => !to.startsWith('+'))).toEqual([]);
  });

  test('in danger gets everything but the address, and is told to name it', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(null);
    await caller.say('my wife has blue lips and can not breathe');
    expect(caller.last).toMatch(/^Hang up and call 9 1 1 now\. Tell them your address and room\./);
    await exchange.pass('PT10M');
    expect(exchange.desk.carrier.calls.filter(({ to }) => !to.startsWith('+'))).toEqual([]);
    expect(exchange.desk.carrier.calls.length).toBeGreaterThan(1);
  });

  test('that names a unit nobody knows goes on without it', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(null);
    await caller.press('9999#');
    expect(caller.last).toMatch(/I do not find that unit\. We go on without it\./);
    await listenFor(caller, /What is wrong\?/);
  });
});

describe('odd requests', () => {
  test('a call that was never opened begins with whatever turn it has, danger first, and hears what was said in it', async () => {
    const { desk } = await callDesk();
    const form = { CallSid: 'CA-never-seen', From: GUEST, Digits: '' };
    const { body } = await postSigned(desk.here, '/carrier/voice/turn?turn=7', form);
    expect(body).toMatch(/turn=8.*hang up and call 9 1 1/);
    const said = { CallSid: 'CA-never-seen-2', From: GUEST, SpeechResult: 'she has blue lips', Confidence: '0.9' };
    const danger = await postSigned(desk.here, '/carrier/voice/turn?turn=3', said);
    expect(danger.body).toMatch(/Hang up and call 9 1 1 now/);
  });

  test('results for a call that ended change nothing and hang up', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say("it won't stop beeping");
    const { attributes } = caller.gather;
    await caller.hangUp();
    const before = await entriesOf(exchange.desk, GUEST);
    const path = (attributes['action'] ?? '').replace('https://desk.example.com', '');
    const { body } = await postSigned(exchange.desk.here, path, { CallSid: caller.callId, From: GUEST, Digits: '1' });
    expect(body).toContain('<Response><Hangup/></Response>');
    expect(await entriesOf(exchange.desk, GUEST)).toEqual(before);
  });

  test('the end of a call that is not known, or is told twice, does nothing', async () => {
    const exchange = await callDesk();
    const end = { CallSid: 'CA-unknown', CallStatus: 'completed' };
    await postSigned(exchange.desk.here, '/carrier/voice/status', end);
    const caller = await exchange.call(GUEST);
    await caller.say("it won't stop beeping");
    await caller.hangUp();
    const sent = exchange.desk.carrier.sent.length;
    await postSigned(exchange.desk.here, '/carrier/voice/status', { CallSid: caller.callId, CallStatus: 'completed' });
    await exchange.settle();
    expect(exchange.desk.carrier.sent.length).toBe(sent);
  });

  test('a key that means nothing is said to mean nothing, and the second one brings a person', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('no bubbles in the water bottle');
    await listenFor(caller, /press 1/i);
    await caller.press('7');
    expect(caller.last).toMatch(/^That key means nothing here\./);
    await listenFor(caller, /press 1/i);
    await caller.press('6');
    await listenFor(caller, PERSON);
  });

  test('the star key says it again, and pound goes back', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('the unit does not start, no sound at all');
    const first = caller.last;
    await caller.press('*');
    expect(caller.last).toBe(first);
    await listenFor(caller, /What do you hear/);
    await caller.press('2');
    await listenFor(caller, /What do you hear/);
    expect(caller.heard.join(' ')).toContain('an outlet on another wall');
    await caller.press('#');
    expect(caller.last).toBe(first);
  });
});

describe('two calls of one phone', () => {
  test('are one conversation: the one left behind is told so, and its keys are not taken for answers to another question', async () => {
    const exchange = await callDesk();
    const one = await exchange.call(GUEST);
    await one.say('the unit does not start, no sound at all');
    await listenFor(one, /What do you hear/);
    const two = await exchange.call(GUEST);
    await listenFor(two, /What do you hear/);
    expect(two.heard.join(' ')).toContain('We go on where we were.');
    await two.say('one long tone that never stops');
    const { state } = await conversationOf(exchange.desk, GUEST);
    await one.press('1');
    expect(one.last).toMatch(/^We have gone on since then/);
    expect((await conversationOf(exchange.desk, GUEST)).state).toBe(state);
  });

  test('danger in the one left behind counts all the same', async () => {
    const exchange = await callDesk();
    const one = await exchange.call(GUEST);
    await one.say('the unit does not start, no sound at all');
    const two = await exchange.call(GUEST);
    await listenFor(two, /What do you hear/);
    await two.say('one long tone that never stops');
    await one.say('he is blue in the face and cannot breathe');
    expect(one.last).toMatch(/^Hang up and call 9 1 1 now/);
  });
});

describe('a caller who is cut off', () => {
  test('gets the question as a text, and goes on by text where they were', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    await caller.say('the unit does not start, no sound at all');
    await listenFor(caller, /What do you hear/);
    await caller.hangUp();
    await exchange.settle();
    expect(exchange.desk.carrier.textsTo(GUEST)).toEqual([
      expect.stringMatching(/^We were cut off on the phone\. You can go on by text: .*\n1 one short beep/s),
    ]);
    expect(await exchange.desk.text(GUEST, 'one short beep')).toMatch(/The middle of the ball should be at 2,/);
  });

  test('by text first and then by phone goes on as well', async () => {
    const exchange = await callDesk();
    await exchange.desk.text(GUEST, 'the unit does not start, no sound at all');
    const caller = await exchange.call(GUEST);
    await listenFor(caller, /What do you hear/);
    expect(caller.heard.join(' ')).toContain('We go on where we were.');
    await caller.press('1');
    await listenFor(caller, /should be at 2,/);
  });

  test('who calls again after an end is asked what it is about', async () => {
    const exchange = await callDesk();
    await exchange.desk.text(GUEST, 'the unit does not start, no sound at all');
    await exchange.desk.text(GUEST, 'one short beep');
    const caller = await exchange.call(GUEST);
    await listenFor(caller, /What is it about\?.*Press 1 for it will not start/);
    expect((await conversationOf(exchange.desk, GUEST)).ending).toBeNull();
  });
});
