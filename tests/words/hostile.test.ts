import { describe, expect, test } from 'vitest';
import { DANGERS, TOPICS } from '../../src/words/heard.ts';
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

// How long it may take is measured by `npm run hear -- --measure`, not here.
test.each(HOSTILE.map((text) => [text.slice(0, 12), text]))(
  '1,600 characters of "%s..." are heard like any text',
  (_start, text) => {
    const heard = hear(text);
    expect(DANGERS).toContain(heard.danger);
    expect(heard.topic === null || (TOPICS as readonly string[]).includes(heard.topic)).toBe(true);
    expect(hear(text)).toEqual(heard);
  },
);
