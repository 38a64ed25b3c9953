import type { Range } from './range.ts';

/**
 * What an order, a sheet or a unit's highest setting may say: from the lowest mark of a child's flow tube to the highest of
 * an adult's. Own bounds, no source; a number outside is a slip of the pen.
 */
export const SETTING_LPM: Range = { from: 0.1, to: 15, unit: 'L/min', advice: 'take litres a minute' };

/** A flow rate for so many people at a time of day, L/min; from the order, or from the owner's signed sheet. */
export interface SettingLine {
  readonly people: number;
  readonly when: 'day' | 'night' | 'any';
  readonly fromLpm: number;
  readonly toLpm: number;
}

/** First hour of the day and first hour of the night, at the property, for settings that differ. Own choice, no source. */
const DAY_FROM_HOUR = 7;
const NIGHT_FROM_HOUR = 21;

export function timeOfDay(localHour: number): 'day' | 'night' {
  return localHour >= DAY_FROM_HOUR && localHour < NIGHT_FROM_HOUR ? 'day' : 'night';
}

export interface SettingSources {
  readonly order: readonly SettingLine[];
  /** The owner's signed sheet; empty where it must not be used. */
  readonly sheet: readonly SettingLine[];
}

/**
 * The setting that the order gives for these people at this time of day; the sheet's where the order says nothing about so
 * many people; where both are silent, null: then a person says it, never a default. A line above the unit's maximum is no
 * setting at all.
 *
 * @param maximumLpm highest flow rate of the model, L/min; null where it is not known
 */
export function settingFor(
  { order, sheet }: SettingSources,
  people: number,
  when: 'day' | 'night',
  maximumLpm: number | null,
): { readonly fromLpm: number; readonly toLpm: number } | null {
  const ordered = order.filter((line) => line.people === people);
  // An order for these people at another hour is not filled up from the sheet, which might say more.
  const lines = ordered.length > 0 ? ordered : sheet.filter((line) => line.people === people);
  const line = lines.find(
    (each) =>
      (each.when === 'any' || each.when === when) &&
      each.fromLpm > 0 &&
      each.fromLpm <= each.toLpm &&
      (maximumLpm === null || each.toLpm <= maximumLpm),
  );
  return line === undefined ? null : { fromLpm: line.fromLpm, toLpm: line.toLpm };
}

/**
 * Below this a mask with a reservoir bag lets its bag collapse, and the wearer breathes back what was breathed out, L/min.
 * Source: University of Aberdeen, oxygen therapy course: non-rebreather at 10 to 15 L/min, below 10 the bag does not fill.
 */
export const MASK_MINIMUM_LPM = 10;

/** The setting of a mask with a bag: the order's own line, and only one that keeps the bag full within the unit's maximum. */
export function maskSettingFor(
  order: readonly SettingLine[],
  maximumLpm: number,
): { readonly fromLpm: number; readonly toLpm: number } | null {
  const line = order.find((each) => each.fromLpm >= MASK_MINIMUM_LPM && each.toLpm <= maximumLpm);
  return line === undefined ? null : { fromLpm: line.fromLpm, toLpm: line.toLpm };
}
