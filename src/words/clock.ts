import type { NumberFound } from './numbers.ts';
import type { Reading } from './reading.ts';

const HOURS_IN_HALF_DAY = 12;

/**
 * Hours from a clock time back to it, counted from `now` (ISO 8601 with its zone; its own wall clock counts).
 * A time without morning or evening is the latest one that fits: at 2 a.m. "since ten" is four hours ago.
 * null when `now` is missing or no time of day.
 */
export function hoursSince(number: NumberFound, reading: Reading, now: string | undefined): number | null {
  const wall = /T(\d{2}):(\d{2})/.exec(now ?? '');
  if (wall === null) return null;
  const current = Number(wall[1]) + Number(wall[2]) / 60;
  const said = number.clock === undefined ? number.value : number.clock.hour + number.clock.minute / 60;
  if (said >= 24) return null;
  const half = halfOfDay(number, reading);
  const hour = half === null ? said : (said % HOURS_IN_HALF_DAY) + (half === 'evening' ? HOURS_IN_HALF_DAY : 0);
  const named = number.clock !== undefined && (hour === 0 || number.value === HOURS_IN_HALF_DAY);
  const turn = half === null && said <= HOURS_IN_HALF_DAY && !named ? HOURS_IN_HALF_DAY : 24;
  const back = (((current - hour) % turn) + turn) % turn;
  return Math.round(back * 100) / 100;
}

function halfOfDay(number: NumberFound, reading: Reading): 'morning' | 'evening' | null {
  for (const found of reading.found) {
    if (found.section !== 'words' || found.start < number.end || found.start > number.end + 1) continue;
    if (found.name === 'in-the-morning') return 'morning';
    if (found.name === 'in-the-evening') return 'evening';
  }
  return null;
}
