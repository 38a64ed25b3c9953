import { describe, expect, test } from 'vitest';
import { MASK_MINIMUM_LPM, maskSettingFor, settingFor, timeOfDay } from '../../src/care/setting.ts';
import type { SettingLine } from '../../src/care/setting.ts';

const line = (people: number, when: SettingLine['when'], fromLpm: number, toLpm = fromLpm): SettingLine => ({
  people,
  when,
  fromLpm,
  toLpm,
});

describe('the setting', () => {
  test('is that of the order for so many people at this time of day', () => {
    const order = [line(1, 'any', 2), line(2, 'night', 5), line(2, 'day', 8, 10)];
    const of = (people: number, when: 'day' | 'night') => settingFor({ order, sheet: [] }, people, when, 10);
    expect(of(1, 'night')).toEqual({ fromLpm: 2, toLpm: 2 });
    expect(of(2, 'night')).toEqual({ fromLpm: 5, toLpm: 5 });
    expect(of(2, 'day')).toEqual({ fromLpm: 8, toLpm: 10 });
  });

  test('is the signed sheet’s only where the order says nothing about so many people', () => {
    const sheet = [line(1, 'any', 3), line(2, 'any', 6)];
    expect(settingFor({ order: [line(1, 'any', 2)], sheet }, 1, 'day', 10)).toEqual({ fromLpm: 2, toLpm: 2 });
    expect(settingFor({ order: [line(1, 'any', 2)], sheet }, 2, 'day', 10)).toEqual({ fromLpm: 6, toLpm: 6 });
  });

  test('of an order for the day alone is not filled up from the sheet at night', () => {
    const sheet = [line(1, 'night', 4)];
    expect(settingFor({ order: [line(1, 'day', 2)], sheet }, 1, 'night', 10)).toBeNull();
  });

  test('is nobody’s guess: without a line there is none', () => {
    expect(settingFor({ order: [], sheet: [] }, 1, 'day', 10)).toBeNull();
    expect(settingFor({ order: [line(1, 'any', 2)], sheet: [] }, 2, 'day', 10)).toBeNull();
  });

  test.for([
    ['above what the unit can give', line(1, 'any', 4, 6)],
    ['of nothing', line(1, 'any', 0)],
    ['below nothing', line(1, 'any', -1, 2)],
    ['the wrong way round', line(1, 'any', 3, 2)],
  ] as const)('is none where the line is %s', ([, wrong]) => {
    expect(settingFor({ order: [wrong], sheet: [] }, 1, 'day', 5)).toBeNull();
  });

  test('may be told where the model’s maximum is not known', () => {
    expect(settingFor({ order: [line(1, 'any', 4)], sheet: [] }, 1, 'day', null)).toEqual({ fromLpm: 4, toLpm: 4 });
  });
});

describe('the mask’s setting', () => {
  test('is the order’s own line that keeps the bag full within the unit’s maximum', () => {
    expect(maskSettingFor([line(1, 'any', 2), line(1, 'any', 10)], 10)).toEqual({ fromLpm: 10, toLpm: 10 });
  });

  test('is none where the order’s line or the unit would let the bag collapse', () => {
    expect(maskSettingFor([line(1, 'any', MASK_MINIMUM_LPM - 0.5)], 10)).toBeNull();
    expect(maskSettingFor([line(1, 'any', 10)], 5)).toBeNull();
    expect(maskSettingFor([], 10)).toBeNull();
  });
});

test.for([
  [6, 'night'],
  [7, 'day'],
  [20, 'day'],
  [21, 'night'],
  [0, 'night'],
] as const)('at %i o’clock it is %s', ([hour, expected]) => {
  expect(timeOfDay(hour)).toBe(expected);
});
