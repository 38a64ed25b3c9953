import type { Day } from '../time/calendar.ts';
import { dayIn, daysLater, isDay, weekdayOf } from '../time/calendar.ts';
import { wallClock } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';

/** What someone on the roster can say about it by text. A night is "tonight", "tomorrow", a weekday or an ISO date. */
export type SwapWords =
  /** `who` gives the night to `with`, and gets theirs; null is the one who writes. */
  | { readonly kind: 'swap'; readonly night: string; readonly who: string | null; readonly with: string }
  | { readonly kind: 'undo'; readonly night: string }
  | { readonly kind: 'who' }
  /** It is about the roster, and what is wanted cannot be told. */
  | { readonly kind: 'unclear' };

const WEEKDAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'] as const;

/** "fri", "Friday", "friday night": the number of the weekday, ISO; null for other words. */
function weekday(word: string): number | null {
  const index = WEEKDAYS.findIndex((name) => word.length >= 3 && name.startsWith(word));
  return index === -1 ? null : index + 1;
}

function isNight(word: string): boolean {
  return word === 'tonight' || word === 'tomorrow' || weekday(word) !== null || isDay(word);
}

/** SWAP, NO SWAP or ON CALL, in any letters, with "night" or without; null for words about something else. */
export function readSwap(text: string): SwapWords | null {
  const words = text
    .trim()
    .replaceAll(/[.!?,]+/g, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim();
  if (/^(who('s| is)? )?on call( now| tonight)?$/i.test(words)) return { kind: 'who' };
  const undo = /^(?:no swap|unswap|undo swap)(?: (\S+))?(?: night)?$/i.exec(words);
  if (undo !== null) {
    const night = (undo[1] ?? 'tonight').toLowerCase();
    return isNight(night) ? { kind: 'undo', night } : { kind: 'unclear' };
  }
  if (!/^swap\b/i.test(words)) return null;
  const [, between, other] = /^swap\b(.*?)\bwith (\S.*)$/i.exec(words) ?? [];
  if (between === undefined || other === undefined) return { kind: 'unclear' };
  const named = between.split(' ').filter((word) => word !== '' && word.toLowerCase() !== 'night');
  const first = (named[0] ?? '').toLowerCase();
  // "SWAP WITH Ines" is tonight's; "SWAP Bram WITH Ines" too, for the owner.
  const night = isNight(first) ? first : 'tonight';
  const who = (isNight(first) ? named.slice(1) : named).join(' ');
  return { kind: 'swap', night, who: who === '' ? null : who, with: other };
}

/** Before this hour a night is still the one that began the evening before. */
const NIGHT_ENDS_AT_HOUR = 7;

/**
 * The day on whose evening a night begins. At two in the morning "tonight" is the night one is in; a weekday is the next one,
 * today included.
 */
export function nightOf(night: string, zone: string, now: Instant): Day {
  const today = dayIn(zone, now);
  const tonight = wallClock(now, zone).hour < NIGHT_ENDS_AT_HOUR ? daysLater(today, -1) : today;
  if (isDay(night)) return night;
  if (night === 'tonight') return tonight;
  if (night === 'tomorrow') return daysLater(tonight, 1);
  const wanted = weekday(night) ?? weekdayOf(tonight);
  return daysLater(tonight, (wanted - weekdayOf(tonight) + 7) % 7);
}
