import { describe, expect, test } from 'vitest';
import { hear } from './words.ts';

describe('a text that says nothing readable', () => {
  test.each(['', '   ', '???', '\u0000\u0007', 'مرحبا كيف حالك', '你好', '\u202Eabc', '🤷🤷', '\uD800'])(
    '%j is unclear and no danger',
    (text) => {
      expect(hear(text)).toMatchObject({ topic: 'unclear', danger: 'none', keyword: null });
    },
  );
});

test('an emoji with a meaning is heard', () => {
  expect(hear('🆘').danger).toBe('ask');
});

const HOSTILE = [
  'not '.repeat(400),
  'he is not '.repeat(160),
  'a'.repeat(1600),
  'no puede no '.repeat(133),
  'blue lips '.repeat(160),
  '1 2 3 and a half to '.repeat(80),
  '(((((|||'.repeat(200),
  'xqzjk '.repeat(266),
].map((text) => text.slice(0, 1600));

test('no text takes more work than its length allows: twice the text, not much more than twice the time', () => {
  for (const text of HOSTILE) {
    hear(text);
    const [half, whole] = [text.slice(0, 800), text].map((part) => {
      const began = process.hrtime.bigint();
      for (let turn = 0; turn < 3; turn += 1) hear(part);
      return Number(process.hrtime.bigint() - began);
    }) as [number, number];
    expect(whole / half, text.slice(0, 20)).toBeLessThan(8);
  }
});
