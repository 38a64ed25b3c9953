import { ambientOfStandardLpm } from '../../care/flow-at-elevation.ts';
import { bottleHours, refillOutlook } from '../../care/refill.ts';
import type { HoursRange } from '../../care/refill.ts';
import { maskSettingFor, settingFor } from '../../care/setting.ts';
import type { FlowBook } from '../../flow/book.ts';
import { settingSourcesOf } from '../guest/facts-of.ts';
import type { SettingSheet, Stay } from '../property.ts';

/** How long a filled water bottle lasts at a stay: as computed, as the trade goes, and what the guest is told. */
export interface Bottle {
  /** The earlier of the two earliest hours, whole: from the filling to the minimum line. */
  readonly hours: number;
  /** Common practice without a source. */
  readonly trade: HoursRange;
  /** Null where it cannot be computed: then only the trade's hours count. */
  readonly computed: HoursRange | null;
  /** What it was computed from, or why it was not. */
  readonly because: string;
}

const ML_PER_FL_OZ = 29.5735;
const MINUTES_PER_HOUR = 60;

/** @throws Error when it is missing in `flows/limits.yaml` */
function limit(book: FlowBook, name: string): number {
  const value = book.limits.limits[name]?.value;
  if (value === undefined) throw new Error(`flows/limits.yaml: the limit "${name}" is missing; add it`);
  return value;
}

/** Earlier rather than later, and never at once: a reminder plans the next. */
const wholeHours = (hours: number): number => Math.max(1, Math.floor(hours));

/** The highest setting that the order, or the sheet where it is silent, gives these people at any hour; null without one. */
function highestSettingLpm(stay: Stay, sheet: SettingSheet | null): number | null {
  const { order, unit, people } = stay;
  const maximumLpm = unit.model.maximumFlowRateLpm;
  const sources = settingSourcesOf(stay, sheet);
  const settings = [
    settingFor(sources, people, 'day', maximumLpm),
    settingFor(sources, people, 'night', maximumLpm),
    order?.mask === true ? maskSettingFor(order.lines, maximumLpm) : null,
  ].flatMap((setting) => (setting === null ? [] : [setting.toLpm]));
  return settings.length === 0 ? null : Math.max(...settings);
}

/**
 * How long a filled bottle lasts. The safe choice throughout: the highest setting of the day, taken as standard litres, of
 * which more pass through the water in thin air; gas that leaves full of water; a warm room; the least water between the lines.
 */
export function bottleOf(book: FlowBook, stay: Stay, sheet: SettingSheet | null): Bottle {
  const trade = { earliest: limit(book, 'refill-every-h'), latest: limit(book, 'refill-latest-h') };
  const byTrade = (because: string): Bottle => ({ hours: wholeHours(trade.earliest), trade, computed: null, because });
  const settingLpm = highestSettingLpm(stay, sheet);
  if (settingLpm === null) return byTrade('no setting on record');
  const roomC = limit(book, 'refill-room-c');
  const usableMl = stay.unit.model.bottleMl ?? limit(book, 'refill-low-oz') * ML_PER_FL_OZ;
  try {
    const ambientLpm = ambientOfStandardLpm(settingLpm, stay.property.elevationM);
    const computed = bottleHours(usableMl, { ambientLpm, roomC });
    const because =
      `${settingLpm} L/min, ${ambientLpm.toFixed(1)} as it passes at ${stay.property.elevationM} m, ` +
      `${roomC} °C, ${Math.round(usableMl)} mL`;
    return { hours: wholeHours(refillOutlook(computed, trade).remindAfterHours), trade, computed, because };
  } catch (error) {
    // A wrong quantity on record must not keep guests from being reminded at all.
    if (error instanceof RangeError) return byTrade(error.message);
    throw error;
  }
}

/** The time a filled bottle lasts, as a duration. */
export function lasts({ hours }: Bottle): string {
  return `PT${hours * MINUTES_PER_HOUR}M`;
}
