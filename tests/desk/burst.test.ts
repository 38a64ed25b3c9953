import { describe, expect, test } from 'vitest';
import { GUEST, LOWEN, entriesOf, nightDesk, openCalloutsOf } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

const CHAT = ['nice hotel', 'the snow is deep', 'we had soup', 'the view is great'];

/** A phone that writes on and on, some seconds apart. Gives the replies. */
async function writes(desk: NightDesk, texts: number): Promise<readonly string[]> {
  const replies: string[] = [];
  for (let text = 0; text < texts; text += 1) {
    replies.push(await desk.text(GUEST, `${CHAT[text % CHAT.length] ?? ''} ${text}`));
    await desk.pass('PT4S');
  }
  return replies;
}

describe('a burst of texts from one phone', () => {
  test('is answered up to thirty, told of once, and then heard and kept in silence', async () => {
    const desk = await nightDesk();
    const replies = await writes(desk, 34);
    expect(replies[30]).toMatch(/more texts than I can follow.*In danger call 911, or write HELP/);
    expect(replies.slice(31)).toEqual(['', '', '']);
    expect((await entriesOf(desk, GUEST)).filter(({ who }) => who === 'guest')).toHaveLength(34);
  });

  test.for([
    ['danger', 'she is turning blue and wont wake up', /^Call 911 now/],
    ['HELP', 'HELP', /911/],
    ['a wish for a human', 'let me talk to a person', /./],
  ] as const)('never silences %s', async ([, words, says]) => {
    const desk = await nightDesk();
    await writes(desk, 36);
    expect(await desk.text(GUEST, words)).toMatch(says);
  });

  test('never silences an answer to the danger questions, nor the callout that follows', async () => {
    const desk = await nightDesk();
    await writes(desk, 33);
    expect(await desk.text(GUEST, 'HELP')).toMatch(/911/);
    expect(await desk.text(GUEST, 'not sure what you mean')).toMatch(/^Call 911 now/);
    expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ urgency: 'danger' }]);
  });

  test('never silences whoever is in danger, whatever they write', async () => {
    const desk = await nightDesk();
    await desk.text(GUEST, 'my husband has blue lips');
    await desk.text(GUEST, 'yes they are on the way');
    expect(await writes(desk, 36)).not.toContain('');
  });

  test('is over some minutes after it began, and is nobody else’s', async () => {
    const desk = await nightDesk();
    await writes(desk, 33);
    expect(await desk.text(LOWEN, "it won't stop beeping")).toMatch(/What do you hear/);
    await desk.pass('PT10M');
    expect(await desk.text(GUEST, "it won't stop beeping")).toMatch(/What do you hear/);
  });
});
