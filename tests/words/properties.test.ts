import { array, assert, constantFrom, property, string } from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DANGERS, type Danger } from '../../src/words/heard.ts';
import { hear } from './words.ts';

const DANGEROUS = [
  'hes not breathing',
  'her lips are blue',
  'i cannot wake my husband',
  'he is choking on a piece of meat',
  'no puedo respirar',
  'tiene los labios morados',
  'mi papá no despierta',
];
const rank = (danger: Danger): number => DANGERS.indexOf(danger);
const dangerous = constantFrom(...DANGEROUS);

describe('danger is not lowered', () => {
  test('by capitals', () => {
    assert(
      property(dangerous, (text) => {
        expect(rank(hear(text.toUpperCase()).danger)).toBeGreaterThanOrEqual(rank(hear(text).danger));
      }),
    );
  });

  test('by missing accents', () => {
    assert(
      property(dangerous, (text) => {
        const bare = text.normalize('NFD').replace(/\p{M}/gu, '');
        expect(rank(hear(bare).danger)).toBeGreaterThanOrEqual(rank(hear(text).danger));
      }),
    );
  });

  test('by punctuation at the end', () => {
    const ends = constantFrom('.', '!', '!!!', '?', '...', ' .', ',', ' ??');
    assert(
      property(dangerous, ends, (text, end) => {
        expect(rank(hear(text + end).danger)).toBeGreaterThanOrEqual(rank(hear(text).danger));
      }),
    );
  });

  test('by politeness', () => {
    const before = constantFrom('good evening, ', 'sorry to bother you, ', 'hola, disculpe, ', 'hi there. ');
    const after = constantFrom(', thank you', ' please', ', gracias', '. Kind regards');
    assert(
      property(dangerous, before, after, (text, polite, thanks) => {
        expect(rank(hear(polite + text + thanks).danger)).toBeGreaterThanOrEqual(rank(hear(text).danger));
      }),
    );
  });
});

test('a danger clause added to any text never leaves none', () => {
  const words = array(constantFrom('the', 'machine', 'dinner', 'was', 'nice', 'ball', '3', 'gracias', 'room'), {
    maxLength: 20,
  });
  assert(
    property(words, dangerous, (chat, text) => {
      expect(hear(`${chat.join(' ')}. ${text}`).danger).not.toBe('none');
      expect(hear(`${text}. ${chat.join(' ')}`).danger).not.toBe('none');
    }),
  );
});

test('what is heard does not depend on what was heard before', () => {
  assert(
    property(string({ maxLength: 60 }), dangerous, (noise, text) => {
      const alone = hear(text);
      hear(noise);
      expect(hear(text)).toEqual(alone);
    }),
  );
});

test('any text at all gives a value, for any question', () => {
  assert(
    property(string({ unit: 'grapheme', maxLength: 200 }), (text) => {
      const heard = hear(text, { asked: 'ball' });
      expect(DANGERS).toContain(heard.danger);
      expect(heard.answer).not.toBeNull();
    }),
  );
});
