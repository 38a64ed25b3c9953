import type { Danger, Sign } from './heard.ts';
import { hearNumber } from './answer-number.ts';
import { standingOf } from './context.ts';
import type { NumberFound } from './numbers.ts';
import type { Reading } from './reading.ts';
import { FULL_STOP } from './tokens.ts';

/** Percent. At or below: danger now, and danger to ask about. From the limits page, "the desk's own caution". */
const NOW_AT = 80;
const ASK_AT = 88;
/** Below this no living finger reads; a "30" beside "sat" is something else. */
const LOWEST = 40;

/** Sets of words that name what else a number may measure. */
const OTHERS = ['other-measure', 'measure-flow', 'measure-time', 'measure-people'];

interface Weighed {
  readonly sign: Sign;
  readonly weight: Danger | 'denied' | 'hint';
  readonly start: number;
  readonly end: number;
}

/** Saturations in a text, weighed. Numbers that measure something else (room, purity, heart rate, battery) are none. */
export function readSaturation(reading: Reading, asked: boolean): Weighed[] {
  const out: Weighed[] = [];
  // Asked for a saturation, a guest may give several numbers: the one that answers is the one to go by.
  const answer = asked ? hearNumber(reading, { asked: 'saturation' }) : null;
  for (const number of answer?.readings ?? reading.numbers) {
    if (number.value > ASK_AT || number.value < LOWEST || !isSaturation(number, reading, asked)) continue;
    const { distant } = standingOf(number, reading);
    const weight = number.value <= NOW_AT && !distant ? 'now' : 'ask';
    out.push({ sign: 'low-saturation', weight, start: number.start, end: number.end });
  }
  return out;
}

/** True when a number is said to be a saturation: its name, its device or its manner of falling is near, nothing else nearer. */
export function isSaturation(number: NumberFound, reading: Reading, asked: boolean): boolean {
  if (number.form === 'clock') return false;
  const near = (name: string): number => nearest(name, number, reading);
  const own = near('saturation');
  const other = Math.min(...OTHERS.map(near));
  return own < 9 ? own < other : asked && other > 2;
}

/** Words between a number and the nearest find of a set; Infinity when there is none in its sentence or the one before. */
function nearest(name: string, number: NumberFound, reading: Reading): number {
  let least = Infinity;
  for (const found of reading.sets.get(name) ?? []) {
    const covers = found.start <= number.start && found.end >= number.end;
    const before = found.end <= number.start;
    const apart = covers ? 0 : before ? number.start - found.end + 1 : found.start - number.end + 1;
    const [from, to] = before ? [found.end, number.start] : [number.end, found.start];
    let stops = 0;
    for (let at = from; at <= to; at += 1) if (reading.tokens[at]?.before === FULL_STOP) stops += 1;
    if (!covers && stops > (before ? 1 : 0)) continue;
    least = Math.min(least, apart + stops * 2);
  }
  return least;
}
