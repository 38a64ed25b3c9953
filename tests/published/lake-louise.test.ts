import { expect, test } from 'vitest';
import { hasWorstItem, lakeLouise, lakeLouiseTotal } from '../../src/care/lake-louise.ts';
import type { LakeLouiseItems } from '../../src/care/lake-louise.ts';

const itemsOf = (headache: number, gut: number, fatigue: number, dizziness: number): LakeLouiseItems => ({
  headache,
  gut,
  fatigue,
  dizziness,
});

// Source, read: Roach and others, High Alt Med Biol 2018;19(1):4-6, as given at
// http://www.altitude.org/lake_louise_AMS_score_2018.php : four items of 0 to 3, no sleep item, so 0 to 12.
test('four items of 0 to 3 make 0 to 12, each counting alike', () => {
  expect(lakeLouiseTotal(itemsOf(0, 0, 0, 0))).toBe(0);
  expect(lakeLouiseTotal(itemsOf(3, 3, 3, 3))).toBe(12);
  for (const level of [0, 1, 2, 3]) {
    expect(lakeLouiseTotal(itemsOf(level, 0, 0, 0))).toBe(level);
    expect(lakeLouiseTotal(itemsOf(0, level, 0, 0))).toBe(level);
    expect(lakeLouiseTotal(itemsOf(0, 0, level, 0))).toBe(level);
    expect(lakeLouiseTotal(itemsOf(0, 0, 0, level))).toBe(level);
  }
  for (const wrong of [-1, 0.5, 4, Number.NaN]) {
    expect(() => lakeLouiseTotal(itemsOf(0, wrong, 0, 0)), `${wrong}`).toThrow(RangeError);
  }
});

// Source: the conditions read in a secondary copy, https://travelersdr.com/altitude-sickness/ (headache of at least 1, total
// of at least 3, at least 6 h at altitude); the bands read at http://fpnotebook.com/ER/Exam/LkLsActMntnScknsScr.htm
// (3 to 5 mild, 6 to 9 moderate, 10 to 12 severe); the examples worked from these.
test.for([
  ['A', itemsOf(2, 1, 1, 0), 10, 4, 'mild'],
  ['B', itemsOf(0, 2, 2, 1), 12, 5, 'not-by-score'],
  ['C', itemsOf(3, 3, 2, 2), 20, 10, 'severe'],
  ['E', itemsOf(1, 1, 1, 1), 4, 4, 'too-early'],
] as const)('worked example %s', ([, items, hours, total, result]) => {
  expect(lakeLouiseTotal(items)).toBe(total);
  expect(lakeLouise(items, hours)).toBe(result);
});

// The published band of a total of 3 is mild. Own caution: a band must not mask an item at its worst.
test('worked example D: a lone severe headache is mild by its total, and is not called mild here', () => {
  const items = itemsOf(3, 0, 0, 0);
  expect(lakeLouiseTotal(items)).toBe(3);
  expect(hasWorstItem(items)).toBe(true);
  expect(lakeLouise(items, 8)).toBe('moderate');
});

test('each band begins and ends where it is published', () => {
  expect(lakeLouise(itemsOf(2, 0, 0, 0), 6)).toBe('not-by-score');
  expect(lakeLouise(itemsOf(1, 1, 1, 0), 6)).toBe('mild');
  expect(lakeLouise(itemsOf(2, 1, 1, 1), 6)).toBe('mild');
  expect(lakeLouise(itemsOf(2, 2, 1, 1), 6)).toBe('moderate');
  expect(lakeLouise(itemsOf(3, 2, 2, 2), 6)).toBe('moderate');
  expect(lakeLouise(itemsOf(3, 3, 2, 2), 6)).toBe('severe');
  expect(lakeLouise(itemsOf(1, 1, 1, 0), 5.9)).toBe('too-early');
});

test('hours below 0, and hours that are no number, are refused', () => {
  expect(() => lakeLouise(itemsOf(1, 1, 1, 0), -1)).toThrow('hours at altitude: -1 is not within 0');
  expect(() => lakeLouise(itemsOf(1, 1, 1, 0), Number.NaN)).toThrow(RangeError);
});
