import { describe, expect, test } from 'vitest';
import {
  BRAM,
  GUEST,
  INES,
  LOWEN,
  ODALYS,
  conversationOf,
  entriesOf,
  nightDesk,
  openCalloutsOf,
} from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

const BLUE_LIPS = 'my husband has blue lips';
const A_PERSON = 'I want to talk to a person';

async function ringing(words = A_PERSON): Promise<NightDesk> {
  const desk = await nightDesk();
  await desk.text(GUEST, words);
  return desk;
}

async function taken(words = A_PERSON): Promise<NightDesk> {
  const desk = await ringing(words);
  await desk.text(BRAM, 'TAKE');
  return desk;
}

describe('a typo', () => {
  test.for([
    ['tkae', /Did you mean TAKE\? Reply TAKE 1\./],
    ['Taek 1', /Did you mean TAKE\? Reply TAKE 1\./],
    ['psas', /Did you mean PASS\? Reply PASS 1\./],
    ['take 99', /not offered callout 99.*Yours: 1.*TAKE 1/],
    ['done!!', /not yours.*TAKE 1/],
    ['on my way', /TAKE 1 or PASS 1/],
    ['?', /TAKE 1 or PASS 1/],
  ] as const)(
    '"%s" before it is taken gets a short answer with what would work, and does nothing',
    async ([text, answer]) => {
      const desk = await ringing();
      const reply = await desk.text(BRAM, text);
      expect(reply).toMatch(answer);
      expect(reply.length).toBeLessThanOrEqual(160);
      expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'ringing' }]);
    },
  );

  test.for([
    ['done!!', /still open.*DONE 1 and a word/],
    ['DONE', /still open.*DONE 1 and a word/],
    ['dnoe', /Did you mean DONE\? Reply DONE 1 and what you found/],
    ['tell', /TELL 1 and the words/],
    ['take 99', /not offered callout 99/],
    ['ok thanks', /TELL 1.*DONE 1.*PASS 1/],
  ] as const)('"%s" from who has it gets what would work, and leaves it open', async ([text, answer]) => {
    const desk = await taken();
    expect(await desk.text(BRAM, text)).toMatch(answer);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'taken' }]);
  });

  test('of who names danger is danger all the same', async () => {
    const desk = await ringing();
    expect(await desk.text(BRAM, 'my own chest hurts, I cannot breathe')).toMatch(/^Call 911/);
  });
});

describe('PASS', () => {
  test('before it is taken tries the next at once', async () => {
    const desk = await ringing();
    expect(await desk.text(BRAM, 'pass')).toMatch(/goes on to the next.*TAKE 1/);
    expect(desk.carrier.textsTo(INES)).toHaveLength(1);
    await desk.pass('PT20M');
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
  });

  test('can be thought better of', async () => {
    const desk = await ringing();
    await desk.text(BRAM, 'PASS 1');
    expect(await desk.text(BRAM, 'TAKE 1')).toContain('Callout 1 is yours');
    expect(desk.carrier.textsTo(INES).at(-1)).toContain('Bram Tiddlecote has callout 1');
  });

  test('by who had it rings on without them, and tells the guest', async () => {
    const desk = await taken();
    await desk.text(BRAM, 'PASS');
    expect(desk.carrier.textsTo(INES)).toEqual([expect.stringContaining('TAKE 1')]);
    expect(desk.carrier.textsTo(GUEST).at(-1)).toMatch(/Bram could not keep your case.*next person/);
    await desk.pass('PT5M');
    expect(desk.carrier.calls.map((call) => call.to)).toEqual([INES]);
    expect(await desk.text(INES, 'take')).toContain('Callout 1 is yours');
  });

  test('of what another one has changes nothing', async () => {
    const desk = await ringing(BLUE_LIPS);
    await desk.pass('PT2M');
    await desk.text(INES, 'TAKE');
    expect(await desk.text(BRAM, 'PASS 1')).toContain('Someone else has callout 1');
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'taken' }]);
  });
});

describe('TELL', () => {
  test('brings words to the guest, under the name of who says them, and keeps them', async () => {
    const desk = await taken();
    expect(await desk.text(BRAM, 'TELL I am at your door, please open')).toContain('Sent');
    expect(desk.carrier.textsTo(GUEST).at(-1)).toBe('Bram: I am at your door, please open');
    const entries = await entriesOf(desk, GUEST);
    expect(entries.findLast((entry) => entry.who === 'technician')?.words).toBe('TELL I am at your door, please open');
  });

  test('with a number in its first words sends the number along', async () => {
    const desk = await taken();
    await desk.text(BRAM, 'TELL 20 minutes and I am there');
    expect(desk.carrier.textsTo(GUEST).at(-1)).toBe('Bram: 20 minutes and I am there');
    await desk.text(BRAM, 'tell 1 two more minutes');
    expect(desk.carrier.textsTo(GUEST).at(-1)).toBe('Bram: two more minutes');
  });

  test('from who has not taken it is refused', async () => {
    const desk = await ringing();
    expect(await desk.text(BRAM, 'TELL hello')).toMatch(/not yours.*TAKE 1/);
    expect(desk.carrier.textsTo(GUEST)).toEqual([]);
  });

  test('to a guest whose texts are blocked gives the number to call', async () => {
    const desk = await taken();
    await desk.text(GUEST, 'STOP');
    expect(await desk.text(BRAM, 'TELL hello')).toMatch(/blocked.*\(970\) 555-0101/);
  });

  test('needs the number only when several are taken', async () => {
    const desk = await taken();
    await desk.text(LOWEN, A_PERSON);
    await desk.text(BRAM, 'TAKE 2');
    expect(await desk.text(BRAM, 'TELL hello')).toMatch(/Which one\? Reply TELL with a number: 2, 1/);
    await desk.text(BRAM, 'TELL 2 hello');
    expect(desk.carrier.textsTo(LOWEN).at(-1)).toBe('Bram: hello');
  });
});

test('DONE with a number in its first words closes with the number as part of the note', async () => {
  const desk = await taken();
  await desk.text(BRAM, 'done 2 outlets were dead');
  const { id } = await conversationOf(desk, GUEST);
  expect(await desk.look((tx) => tx.callouts(id))).toMatchObject([{ status: 'done', note: '2 outlets were dead' }]);
});

describe('SWAP', () => {
  const onCall = async (desk: NightDesk): Promise<string> => desk.text(ODALYS, 'ON CALL');

  test('by text changes who is tried tonight, tells the other, and can be undone', async () => {
    const desk = await nightDesk();
    expect(await desk.text(BRAM, 'SWAP tonight WITH Ines')).toMatch(
      /Swapped.*2026-11-24: Ines Quarrow, then Bram.*NO SWAP/,
    );
    expect(desk.carrier.textsTo(INES)).toEqual([
      expect.stringMatching(/Bram Tiddlecote swapped.*Ines Quarrow, then Bram/),
    ]);
    await desk.text(GUEST, A_PERSON);
    expect(desk.carrier.textsTo(INES).at(-1)).toContain('TAKE 1');
    expect(desk.carrier.textsTo(BRAM)).toEqual([]);
    expect(await onCall(desk)).toMatch(/On call now: Ines Quarrow, then Bram/);
    expect(await desk.text(INES, 'no swap')).toMatch(/Undone.*Bram Tiddlecote, then Ines/);
    expect(await onCall(desk)).toMatch(/On call now: Bram Tiddlecote, then Ines/);
  });

  test('of the nights of others is the owner’s', async () => {
    const desk = await nightDesk();
    expect(await desk.text(BRAM, 'swap friday ines with odalys')).toMatch(/Only the owner/);
    expect(await desk.text(ODALYS, 'swap friday ines with odalys')).toMatch(/Swapped.*2026-11-27: Odalys Fenwright/);
  });

  test.for([
    ['swap tonight with Inez', /nobody called Inez.*Ines Quarrow/],
    ['swap tonight with Bram', /themselves/],
    ['swap', /SWAP tonight WITH/],
    ['no swap saturday', /no swap in the night of 2026-11-28/],
  ] as const)('"%s" is answered in words, and changes nothing', async ([text, answer]) => {
    const desk = await nightDesk();
    expect(await desk.text(BRAM, text)).toMatch(answer);
    expect((await desk.look((tx) => tx.roster())).swaps).toEqual([]);
  });

  test('from a guest is a guest’s word', async () => {
    const desk = await nightDesk();
    expect(await desk.text(GUEST, 'SWAP tonight WITH Ines')).not.toMatch(/Swapped|Ines Quarrow/);
    expect((await desk.look((tx) => tx.roster())).swaps).toEqual([]);
  });
});
