import { expect, test } from 'vitest';
import { hearLine } from '../../src/words/lines.ts';
import { hear } from './words.ts';

test('a line gives the fields of the format and no more, in their order', () => {
  const { out, ok } = hearLine('{"id":"4","text":"se le acabó el agua al frasco"}', hear);
  expect(ok).toBe(true);
  expect(out).toBe(
    '{"id":"4","lang":"es","danger":"none","signs":[],"topic":"humidifier-empty","answer":null,"why":["acabó el agua"]}',
  );
});

test.each([
  ['not json', 'not JSON'],
  ['[]', 'not an object'],
  ['{"text":"secret words"}', '"id" is missing'],
  ['{"id":"1","text":5}', '"text" is a number'],
  ['{"id":"1","text":"secret words","asked":"colour"}', '"asked" must be one of switch-on-sound, ball'],
  ['{"id":"1","text":"secret words","lang":"fr"}', '"lang" must be one of en, es'],
  ['{"id":"1","text":"secret words","now":"soon"}', '"now" must be an ISO 8601 time'],
])('%s is refused, saying what is allowed and never the words of the guest', (line, error) => {
  const { out, ok } = hearLine(line, hear);
  expect(ok).toBe(false);
  expect(JSON.parse(out)).toMatchObject({ id: null, error: expect.stringContaining(error) });
  expect(out).not.toContain('secret');
});
