import { describe, expect, test, vi } from 'vitest';
import { BRAM, GUEST, INES, ODALYS, entriesOf, openCalloutsOf } from '../desk/night-desk.ts';
import type { Caller, Exchange } from './exchange.ts';
import { callDesk, untilWaiting } from './call-desk.ts';

async function askForPerson(exchange: Exchange, from: string | null = GUEST): Promise<Caller> {
  const caller = await exchange.call(from);
  await caller.press('0');
  await untilWaiting(caller);
  return caller;
}

/** Answers no to everything until a person is got. */
async function untilHandedOver(caller: Caller): Promise<void> {
  for (let turns = 0; turns < 20 && caller.at === 'listening'; turns += 1) {
    if (/star 1/.test(caller.last)) await caller.press('*1#');
    else if (/Say next/.test(caller.last)) await caller.press('1');
    else if (/press 2/.test(caller.last)) await caller.press('2');
    else await caller.silent();
  }
  expect(caller.at, caller.last).toBe('waiting');
}

const rung = (exchange: Exchange): readonly string[] => exchange.desk.carrier.calls.map(({ to }) => to);

async function recordingsOf(exchange: Exchange): Promise<readonly { address: string; lengthS: number }[]> {
  const [callout] = await openCalloutsOf(exchange.desk, GUEST);
  const recordings = await exchange.desk.look((tx) => tx.recordingsOf(callout?.id ?? 0));
  return recordings.map(({ address, lengthS }) => ({ address, lengthS }));
}

describe('a person on the line', () => {
  test.for([['0'], ['I want to talk to a human']])(
    'is wanted by %s: the list is rung in its order',
    async ([how = '']) => {
      const exchange = await callDesk();
      exchange.doTo(BRAM, 'does not answer');
      exchange.doTo(INES, 'is busy');
      exchange.doTo(ODALYS, { presses: ['1'] });
      const caller = await exchange.call(GUEST);
      if (how === '0') await caller.press(how);
      else await caller.say(how);
      await untilWaiting(caller);
      await caller.wait('PT5M');
      expect(rung(exchange)).toEqual([BRAM, INES, ODALYS]);
      expect(caller.talked).toBe(1);
      expect(caller.heard.join(' ')).toContain('I am ringing Bram Tiddlecote now.');
      expect(caller.last).toMatch(/^This is the night desk again\. That call is over\./);
      const [callout] = await openCalloutsOf(exchange.desk, GUEST);
      expect(callout?.status).toBe('taken');
    },
  );

  test('hears the brief and must press 1: voicemail and silence never take it', async () => {
    const exchange = await callDesk();
    exchange.doTo(BRAM, 'has a voicemail');
    exchange.doTo(INES, { presses: [] });
    exchange.doTo(ODALYS, { presses: ['3', '1'] });
    const caller = await askForPerson(exchange);
    await caller.wait('PT6M');
    expect(rung(exchange)).toEqual([BRAM, INES, ODALYS]);
    expect(caller.talked).toBe(1);
    const words = (await entriesOf(exchange.desk, GUEST)).map((entry) => entry.words).join('\n');
    expect(words).toMatch(/Bram Tiddlecote: an answering machine/);
    expect(words).toMatch(/Odalys Fenwright took it by voice/);
  });

  test('passes it on with 2, and the next one is rung', async () => {
    const exchange = await callDesk();
    exchange.doTo(BRAM, { presses: ['2'] });
    exchange.doTo(INES, { presses: ['1'] });
    const caller = await askForPerson(exchange);
    await caller.wait('PT5M');
    expect(caller.talked).toBe(1);
    expect(rung(exchange).slice(0, 2)).toEqual([BRAM, INES]);
  });

  test('comes after a callout of a flow too', async () => {
    const exchange = await callDesk();
    exchange.doTo(BRAM, { presses: ['1'] });
    const caller = await exchange.call(GUEST);
    await caller.say('the unit is on and there is no air from the prongs');
    await untilHandedOver(caller);
    await caller.wait('PT2M');
    expect(caller.talked).toBe(1);
  });

  test('while one waits, says now and then what is being done', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    const before = caller.heard.length;
    await caller.wait('PT1M');
    const said = caller.heard.slice(before);
    expect(said[0]).toBe('I am ringing Bram Tiddlecote now. Stay on the line.');
    expect(said).toContain('I am still trying to reach someone. If anyone gets worse, hang up and call 9 1 1.');
    expect(said).toContain('I am ringing Ines Quarrow now. Stay on the line.');
  });

  test('who has the callout already is rung alone, and gets what the caller says', async () => {
    const exchange = await callDesk();
    await exchange.desk.text(GUEST, 'person');
    await exchange.desk.text(BRAM, 'take');
    exchange.doTo(BRAM, { presses: ['1'] });
    const caller = await exchange.call(GUEST);
    expect(caller.last).toMatch(/Bram Tiddlecote has your case\./);
    await caller.say('the alarm has begun again and it is louder');
    await untilWaiting(caller);
    await caller.wait('PT2M');
    expect(caller.talked).toBe(1);
    expect(exchange.desk.carrier.textsTo(BRAM).join(' ')).toContain('"the alarm has begun again and it is louder"');
    expect(rung(exchange)).toEqual([BRAM]);
  });

  test('who takes it by text while others are rung is rung next, to be put through', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    await caller.wait('PT5S');
    await exchange.desk.text(BRAM, 'take');
    exchange.doTo(BRAM, { presses: ['1'] });
    await caller.wait('PT5M');
    expect(rung(exchange)).toEqual([BRAM, BRAM].slice(0, rung(exchange).length));
  });

  test('is not rung for a caller who has hung up, but the callout goes on', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    await caller.wait('PT5S');
    await caller.hangUp();
    exchange.doTo(INES, { presses: ['1'] });
    await exchange.pass('PT20M');
    const [callout] = await openCalloutsOf(exchange.desk, GUEST);
    expect(callout?.status).toBe('taken');
    expect(caller.talked).toBe(0);
  });

  test('calls back from a missed call and hears the brief, and presses 1 to talk with who waits', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    await caller.wait('PT5S');
    const technician = await exchange.call(BRAM);
    expect(technician.last).toMatch(/^This is the night desk of .*The guest is on the line\. Press 1/);
    await technician.press('1');
    expect(caller.talked).toBe(1);
    expect(technician.last).toMatch(/You have talked with the guest\./);
    expect(technician.at).toBe('over');
  });
});

describe('while no work is done', () => {
  /** The process that does the work is gone for a while; calls are answered all the same. */
  function withoutWork({ desk }: Exchange): () => void {
    const spies = [
      vi.spyOn(desk.records, 'claimWork').mockResolvedValue(null),
      vi.spyOn(desk.records, 'nextDueAt').mockResolvedValue(null),
    ];
    return () => spies.forEach((spy) => spy.mockRestore());
  }

  test('a caller is not kept for phones that nobody rings: a message is taken within minutes', async () => {
    const exchange = await callDesk();
    const caller = await exchange.call(GUEST);
    withoutWork(exchange);
    await caller.press('0');
    await untilWaiting(caller);
    await caller.wait('PT5M');
    expect(rung(exchange)).toEqual([]);
    expect(caller.heard.join(' ')).toContain('I am ringing Ines Quarrow now.');
    expect(caller.last).toMatch(/record it, say yes/);
  });

  test('calls that have lapsed meanwhile hold nobody up, and ring nobody late', async () => {
    const exchange = await callDesk();
    exchange.doTo(INES, { presses: ['1'] });
    const caller = await exchange.call(GUEST);
    const goOn = withoutWork(exchange);
    await caller.press('0');
    await untilWaiting(caller);
    await exchange.pass('PT6M');
    goOn();
    await exchange.pass('PT30S');
    expect(rung(exchange)).toEqual([INES]);
    expect(caller.talked).toBe(1);
  });
});

describe('nobody', () => {
  test('leads to a message, recorded only after a yes, which hangs on the callout and is played to who is called', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    await caller.wait('PT5M');
    expect(caller.last).toMatch(
      /^Nobody has answered yet, and I go on trying\. I can record a message.*Is that all right\?/,
    );
    await caller.say('yes please');
    expect([caller.at, caller.last]).toEqual(['recording', expect.stringMatching(/^You said yes, so I record now\./)]);
    await caller.leaveMessage('https://api.example.com/recordings/RE1', 14);
    expect([caller.at, caller.last]).toEqual([
      'over',
      expect.stringMatching(/^Thank you\. Your message is with your case/),
    ]);
    expect(await recordingsOf(exchange)).toEqual([{ address: 'https://api.example.com/recordings/RE1', lengthS: 14 }]);
    expect(exchange.desk.carrier.textsTo(BRAM).join(' ')).toContain(
      'It is played when you are called, and on the callout',
    );
    const entries = await entriesOf(exchange.desk, GUEST);
    expect(entries.map(({ words }) => words)).toContain('(a recorded message of 14 s)');
    expect(entries.map(({ words }) => words)).toContain('(may it be recorded?) yes please');
    exchange.doTo(BRAM, { presses: ['1'] });
    await exchange.pass('PT30M');
    expect(exchange.played).toContain('https://api.example.com/recordings/RE1');
  });

  test.for([['no'], ['maybe later'], ['2'], ['']])('records nothing after "%s"', async ([answer = '']) => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    await caller.wait('PT5M');
    if (answer === '') await caller.silent();
    else if (answer === '2') await caller.press('2');
    else await caller.say(answer);
    expect([caller.at, caller.last]).toEqual([
      'over',
      expect.stringMatching(/^Nothing is recorded\. I go on ringing people/),
    ]);
    expect(await recordingsOf(exchange)).toEqual([]);
  });

  test('a yes that the recognition is not sure of is no yes', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    await caller.wait('PT5M');
    await caller.say('yes', 0.2);
    expect(caller.last).toMatch(/^Nothing is recorded/);
  });

  test('danger in place of a yes is danger', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    await caller.wait('PT5M');
    await caller.say('she is turning blue and cannot breathe');
    expect(caller.last).toMatch(/^Hang up and call 9 1 1 now/);
  });

  test('silence after the tone leaves nothing, and says so', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    await caller.wait('PT5M');
    await caller.press('1');
    await caller.silent();
    expect([caller.at, caller.last]).toEqual(['over', expect.stringMatching(/^Nothing is recorded/)]);
  });

  test('to call back: a hidden number is told the direct one', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange, null);
    await caller.wait('PT5M');
    await caller.press('1');
    await caller.leaveMessage('https://api.example.com/recordings/RE2', 9);
    expect(caller.last).toMatch(/I cannot call you back, so call 9 7 0, 5 5 5, 0 1 9 0 as well\./);
  });

  test('the callout goes on ringing in its usual rhythm afterwards', async () => {
    const exchange = await callDesk();
    const caller = await askForPerson(exchange);
    await caller.wait('PT5M');
    await caller.press('2');
    const before = exchange.desk.carrier.sent.length + rung(exchange).length;
    await exchange.pass('PT15M');
    expect(exchange.desk.carrier.sent.length + rung(exchange).length).toBeGreaterThan(before);
  });
});
