import { expect, test } from 'vitest';
import { textParts } from '../../src/care/text-parts.ts';
import { BRAM, GUEST, STRANGER, entriesOf, firstSentence, nightDesk } from './night-desk.ts';

const ODD: readonly (readonly [string, string])[] = [
  ['nothing at all', ''],
  ['blanks', ' \n\t '],
  ['emoji only', '😮‍💨🫁🫁'],
  ['one emoji', '👍'],
  ['1,600 characters', 'it '.repeat(533) + 'x'],
  ['1,600 characters without a blank', 'x'.repeat(1_600)],
  ['800 emoji', '😮'.repeat(800)],
  ['control characters', 'it\u0000 \u0007be\u001beps\u0085'],
  ['right-to-left text', 'الجهاز لا يعمل والإنذار مستمر'],
  ['a turned direction', '\u202eti speeb'],
  ['another script', '酸素濃縮器が動きません'],
  ['half a surrogate pair', '\ud83d it beeps'],
  ['letters with many marks', 'i\u0301\u0302\u0303\u0304\u0305\u0306'.repeat(60)],
  ['markup', '<Response><Message>&amp;</Message></Response>'],
  ['a statement of SQL', "'; drop table entries; --"],
  ['JSON', '{"state":"gone","__proto__":{"danger":"now"}}'],
  ['braces of a wording', '{setting} {emergency-number} {toString}'],
  ['a number as long as the text', '9'.repeat(1_600)],
  ['many questions', '?'.repeat(200)],
];

test.for(ODD)('%s gets a sensible reply, from a guest and from a stranger, at every turn', async ([, words]) => {
  const desk = await nightDesk();
  for (const phone of [GUEST, STRANGER]) {
    const replies = [await desk.text(phone, words), await desk.text(phone, "it won't turn on")];
    replies.push(await desk.text(phone, words));
    for (const reply of replies) {
      expect(reply.trim().length).toBeGreaterThan(10);
      expect(reply).not.toMatch(/undefined|null|NaN|\[object|\{[a-z-]+\}/);
      expect(textParts(reply).parts).toBeLessThanOrEqual(4);
    }
    expect((await entriesOf(desk, phone)).filter((entry) => entry.who === 'guest')).toHaveLength(3);
  }
  expect(desk.log()).not.toContain('could not be handled');
});

test('a first text that says nothing says what number to call, and asks what is wrong', async () => {
  const desk = await nightDesk();
  expect(await desk.text(GUEST, '')).toMatch(/call 911.*wrong\?/i);
});

test.for([
  ['at the end of 1,600 characters', 'hello '.repeat(260) + 'he has blue lips'],
  ['between control characters', 'he has\u0007 blue\u0000 lips'],
  ['in capitals with marks', 'HE HAS BLUE LIPS!!!!!! 😱😱😱'],
  ['with a turned direction', '\u202ehe has blue lips'],
])('danger %s is danger', async ([, words]) => {
  const desk = await nightDesk();
  expect(firstSentence(await desk.text(GUEST, words ?? ''))).toMatch(/\b911\b/);
  expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
});

test('a guest’s own words reach the technician as they are, cut to what fits', async () => {
  const desk = await nightDesk();
  await desk.text(GUEST, `he has blue lips ${'<b>&'.repeat(100)}`);
  const [brief = ''] = desk.carrier.textsTo(BRAM);
  expect(brief).toContain('he has blue lips <b>&');
  expect(textParts(brief).parts).toBeLessThanOrEqual(4);
});

test('a picture without words is answered, and kept as a reference', async () => {
  const desk = await nightDesk();
  const picture = 'https://pictures.example.com/1.jpg';
  expect(await desk.text(GUEST, '', { NumMedia: '1', MediaUrl0: picture })).not.toBe('');
  expect((await entriesOf(desk, GUEST))[0]).toMatchObject({ words: '', media: [picture] });
});
