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

/**
 * The setting that the order gives for these people at this time of day; where the order is silent, the sheet's; where
 * both are, null: then a person says it, never a default. A line above the unit's maximum is no setting at all.
 */
export function settingFor(
  sources: { readonly order: readonly SettingLine[]; readonly sheet: readonly SettingLine[] },
  people: number,
  when: 'day' | 'night',
  maximumLpm: number | null,
): { readonly fromLpm: number; readonly toLpm: number } | null {
  const fits = (line: SettingLine): boolean =>
    line.people === people &&
    (line.when === 'any' || line.when === when) &&
    line.fromLpm > 0 &&
    line.fromLpm <= line.toLpm &&
    (maximumLpm === null || line.toLpm <= maximumLpm);
  const line = sources.order.find(fits) ?? (sources.order.length === 0 ? sources.sheet.find(fits) : undefined);
  return line === undefined ? null : { fromLpm: line.fromLpm, toLpm: line.toLpm };
}
