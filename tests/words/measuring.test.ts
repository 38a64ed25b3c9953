import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { measureSet } from '../../src/words/measuring/measure.ts';
import { wilson } from '../../src/words/measuring/table.ts';
import { hear } from './words.ts';

test('intervals are those of Wilson (1927)', () => {
  const { low, high } = wilson(99, 100);
  expect([low, high].map((share) => share.toFixed(4))).toEqual(['0.9455', '0.9982']);
});

test('misses of the texts kept aside are not to be had', () => {
  const fixtures = fileURLToPath(new URL('../../fixtures/messages', import.meta.url));
  expect(() => measureSet(fixtures, 'kept-aside', true, hear)).toThrow('--misses is refused');
});
