import { ENDINGS } from '../../flow/ending.ts';
import type { Ending } from '../../flow/ending.ts';
import { daysLater, isDay } from '../../time/calendar.ts';
import type { NightQuery } from '../records.ts';
import type { Visit } from '../visit.ts';
import { nightOfInstant, spanOfNight } from '../when.ts';

/** As many lines as a morning's coffee lasts for; the next sheet has the older ones. */
const LINES = 50;
/** Nights looked through at once: more would be a search through years. */
export const MOST_NIGHTS = 92;

export interface Asked {
  /** The nights, by the days on whose evenings they began; both are looked through. */
  readonly first: string;
  readonly last: string;
  readonly query: NightQuery;
  /** Whether anything but the night itself was asked for. */
  readonly narrowed: boolean;
}

/** What a night sheet is asked for by its address. What makes no sense there counts as not asked. */
export function askedOf(visit: Visit): Asked {
  const { query: given, seal, side, now } = visit;
  const { zone } = side.outfit;
  const tonight = nightOfInstant(now, zone);
  const dayOr = (name: string, otherwise: string): string => {
    const day = given.get(name) ?? '';
    return isDay(day) ? day : otherwise;
  };
  const last = dayOr('to', dayOr('night', tonight));
  const wanted = dayOr('from', last);
  const earliest = daysLater(last, 1 - MOST_NIGHTS);
  const first = wanted > last ? last : wanted < earliest ? earliest : wanted;
  const words = (given.get('words') ?? '').trim();
  const flow = given.get('matter') ?? '';
  const ending = given.get('ending') ?? '';
  const known = ending === 'open' || (ENDINGS as readonly string[]).includes(ending);
  const query: NightQuery = {
    from: spanOfNight(first, zone).from,
    until: spanOfNight(last, zone).until,
    propertyId: seal.open('property', given.get('property') ?? ''),
    unitId: seal.open('unit', given.get('unit') ?? ''),
    flow: /^[a-z][a-z0-9-]*$/.test(flow) ? flow : null,
    ending: known ? (ending as Ending | 'open') : null,
    words: words === '' ? null : words.slice(0, 200),
    below: belowOf(visit),
    most: LINES,
  };
  const narrowed = [query.propertyId, query.unitId, query.flow, query.ending, query.words].some(
    (part) => part !== null,
  );
  return { first, last, query, narrowed };
}

/** The last line that was shown: its instant, and the conversation as addresses name it. */
function belowOf({ query, seal }: Visit): NightQuery['below'] {
  // A seal may hold the sign that stands between; an instant does not.
  const [, at = '', conversation = ''] = /^([^_]*)_(.*)$/.exec(query.get('below') ?? '') ?? [];
  const id = seal.open('conversation', conversation);
  return id !== null && /^\d{4}-\d{2}-\d{2}T[\d:.]{12}Z$/.test(at) ? { at: at as NightQuery['from'], id } : null;
}
