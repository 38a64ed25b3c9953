import { within } from './range.ts';

/** Events of one time and what they are counted over: a week's faults and its rental-days. */
export interface Counted {
  /** from 0 */
  readonly events: number;
  /** from 0; nothing is drawn of a time in which nothing was rented */
  readonly exposure: number;
}

export interface ChartPoint extends Counted {
  /** Events per unit of exposure; null where there was none. */
  readonly rate: number | null;
  readonly lower: number;
  readonly upper: number;
  /** Beyond a limit: something was different in that time, and is worth looking for. */
  readonly beyond: 'above' | 'below' | null;
}

export interface UChart {
  /** The rate of all times together; null where there was no exposure at all. */
  readonly centre: number | null;
  readonly points: readonly ChartPoint[];
}

const COUNT = { from: 0, to: 1_000_000 } as const;

/**
 * A chart of counts per unit of exposure, each time with its own limits: the centre, and three times the root of the centre
 * over the exposure to each side, not below 0.
 * Source: the u chart of Shewhart's kind, as in ISO 7870-2 (from memory) and Montgomery, Statistical Quality Control.
 * @throws RangeError for events or an exposure below 0
 */
export function uChart(times: readonly Counted[]): UChart {
  const sum = (of: keyof Counted): number =>
    times.reduce((total, each) => total + within(of, each[of], { ...COUNT, unit: of }), 0);
  const [events, exposure] = [sum('events'), sum('exposure')];
  if (exposure === 0)
    return {
      centre: null,
      points: times.map((each) => ({ ...each, rate: null, lower: 0, upper: 0, beyond: null })),
    };
  const centre = events / exposure;
  return {
    centre,
    points: times.map((each): ChartPoint => {
      if (each.exposure === 0) return { ...each, rate: null, lower: 0, upper: 0, beyond: null };
      const rate = each.events / each.exposure;
      const reach = 3 * Math.sqrt(centre / each.exposure);
      const [lower, upper] = [Math.max(0, centre - reach), centre + reach];
      return { ...each, rate, lower, upper, beyond: rate > upper ? 'above' : rate < lower ? 'below' : null };
    }),
  };
}
