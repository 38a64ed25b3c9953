import { expect, test } from 'vitest';
import { nextPass, roundsOfAPass, whomToTry } from '../../src/roster/trying.ts';
import type { Urgency } from '../../src/roster/trying.ts';
import { ANNA, BEN, ODA } from './people.ts';

const LIST = [ANNA, BEN, ODA];

function tried(urgency: Urgency, rounds: number, people = LIST): string[] {
  return Array.from({ length: rounds }, (_, round) =>
    whomToTry(urgency, people, round)
      .map(({ person, by }) => `${by} ${person.name.split(' ')[0]}`)
      .join(', '),
  );
}

test('danger: text and call at once; texts again each round, from the third to the next and the owner; calls down the list', () => {
  expect(tried('danger', 5)).toEqual([
    'text Anna, call Anna',
    'text Anna, call Ben',
    'text Anna, text Ben, text Oda, call Oda',
    'text Anna, text Ben, text Oda, call Anna',
    'text Anna, text Ben, text Oda, call Ben',
  ]);
});

test('tonight: a text, then a call to the same person, then the next, the owner, and round again', () => {
  expect(tried('tonight', 8)).toEqual([
    'text Anna',
    'call Anna',
    'text Ben',
    'call Ben',
    'text Oda',
    'call Oda',
    'text Anna',
    'call Anna',
  ]);
});

test('morning: texts only, one person after the other', () => {
  expect(tried('morning', 4)).toEqual(['text Anna', 'text Ben', 'text Oda', 'text Anna']);
});

test('with the owner alone, the owner is tried over and over', () => {
  expect(tried('danger', 3, [ODA])).toEqual(Array.from({ length: 3 }, () => 'text Oda, call Oda'));
  expect(tried('tonight', 3, [ODA])).toEqual(['text Oda', 'call Oda', 'text Oda']);
});

test('with nobody on it, nobody is tried', () => {
  expect(tried('danger', 2, [])).toEqual(['', '']);
});

test('a pass is over when the list was gone through, and the next begins with the first', () => {
  expect([roundsOfAPass('danger', 3), roundsOfAPass('tonight', 3), roundsOfAPass('morning', 3)]).toEqual([3, 6, 3]);
  expect(nextPass('tonight', 3, 1)).toBe(6);
  expect(whomToTry('tonight', LIST, 6)).toEqual([{ person: ANNA, by: 'text' }]);
});
