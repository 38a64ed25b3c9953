import { HIGHEST_EFFICIENCY, LOWEST_EFFICIENCY, hoursToMinimumLine } from './bottle-water.ts';
import type { Bubbling } from './bottle-water.ts';
import { within } from './range.ts';
import type { Range } from './range.ts';

export interface HoursRange {
  readonly earliest: number;
  readonly latest: number;
}

const HOURS: Range = { from: 1, to: 1000, unit: 'h' };

/**
 * When a full bottle is down to its minimum line, hours: the earliest as if the gas left full of water, the latest at the
 * lowest efficiency measured.
 * @param usableMl water above the minimum line, 10 to 2,000 mL
 * @throws RangeError outside that, and as `hoursToMinimumLine`
 */
export function bottleHours(usableMl: number, bubbling: Omit<Bubbling, 'efficiency'>): HoursRange {
  return {
    earliest: hoursToMinimumLine(usableMl, { ...bubbling, efficiency: HIGHEST_EFFICIENCY }),
    latest: hoursToMinimumLine(usableMl, { ...bubbling, efficiency: LOWEST_EFFICIENCY }),
  };
}

export interface RefillOutlook {
  readonly computed: HoursRange;
  readonly trade: HoursRange;
  /** Whether the earliest computed hour is one of the trade's; if not, both are to be shown. */
  readonly agree: boolean;
  /** The earlier of the two earliest hours. */
  readonly remindAfterHours: number;
}

/**
 * The computed hours beside those that the trade goes by (common practice without a source, so they come from the owner's
 * sheet and are not kept here). They are not reconciled: the guest is reminded at the earlier.
 * @param trade 1 to 1,000 h, earliest first
 * @throws RangeError for hours outside that, or in the wrong order
 */
export function refillOutlook(computed: HoursRange, trade: HoursRange): RefillOutlook {
  for (const [whose, { earliest, latest }] of Object.entries({ computed, trade })) {
    within(`earliest ${whose} hour`, earliest, HOURS);
    within(`latest ${whose} hour`, latest, { ...HOURS, from: earliest, advice: 'give the earliest hour first' });
  }
  return {
    computed,
    trade,
    agree: computed.earliest >= trade.earliest && computed.earliest <= trade.latest,
    remindAfterHours: Math.min(computed.earliest, trade.earliest),
  };
}
