import { textParts } from '../../care/text-parts.ts';
import type { FlowBook } from '../../flow/book.ts';
import { daysLater } from '../../time/calendar.ts';
import { wallClock } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { matterOfLine } from '../night/told.ts';
import type { Counted } from '../records.ts';
import { dayName, minutesBetween, nightOfInstant } from '../when.ts';

/** One number of the nights: a chart, its table and its CSV are all made of it. */
export interface NumbersTable {
  readonly name: string;
  readonly title: string;
  /** What a value is: "conversations", "min". */
  readonly unit: string;
  /** What a row is about: "night", "hour". */
  readonly of: string;
  /** Nights and hours run on, so they are drawn as a line of bars; matters do not, and lie below one another. */
  readonly drawn: 'columns' | 'rows';
  /** Null where there was nothing to take a value of. */
  readonly rows: readonly (readonly [label: string, value: number | null])[];
}

function median(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  const sorted = values.toSorted((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  const upper = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[middle - 1] ?? upper)) / 2;
}

/** The nights from one to another, by the days on whose evenings they began. */
export function nightsFrom(first: string, last: string): readonly string[] {
  const nights: string[] = [];
  for (let day = first; day <= last; day = daysLater(day, 1)) nights.push(day);
  return nights;
}

export interface CountedNights {
  readonly counted: Counted;
  readonly nights: readonly string[];
  readonly zone: string;
  readonly book: FlowBook;
  /** What the carrier takes for a text part, in cents; null where the owner did not say. */
  readonly centsAPart: number | null;
}

type Conversation = Counted['conversations'][number];
const isSettled = ({ ending }: Conversation): boolean => ending === 'settled' || ending === 'information';

function tally(labels: readonly string[]): readonly (readonly [string, number])[] {
  const counts = new Map<string, number>();
  for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  return [...counts].toSorted((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
}

/** Every number the owner looks at, from what was counted. Pure. */
export function numbersOf({ counted, nights, zone, book, centsAPart }: CountedNights): readonly NumbersTable[] {
  const { conversations, callouts, lost } = counted;
  const ofNight = <Row>(rows: readonly Row[], at: (row: Row) => Instant) => {
    const groups = Map.groupBy(rows, (row) => nightOfInstant(at(row), zone));
    return (of: (rows: readonly Row[]) => number | null) =>
      nights.map((night) => [dayName(night), of(groups.get(night) ?? [])] as const);
  };
  const talks = ofNight(conversations, (row) => row.openedAt);
  const calls = ofNight(callouts, (row) => row.openedAt);
  const losses = ofNight(lost, (at) => at);
  const waits = (rows: Counted['callouts']): readonly number[] =>
    rows.flatMap(({ openedAt, takenAt }) => (takenAt === null ? [] : [minutesBetween(openedAt, takenAt)]));
  const ended = (rows: readonly Conversation[]): readonly Conversation[] => rows.filter((row) => row.ending !== null);
  const partsOf = (rows: readonly Conversation[]): number =>
    rows.flatMap((row) => row.deskTexts).reduce((sum, words) => sum + textParts(words).parts, 0);
  const byHour = Map.groupBy(callouts, ({ openedAt }) => wallClock(openedAt, zone).hour);
  const matter = (row: Conversation): string => matterOfLine(book, { flows: row.flows, callouts: [] });
  const nightly = { of: 'night', drawn: 'columns' } as const;
  const priced = centsAPart === null ? 'text parts' : 'dollars';
  return [
    {
      ...nightly,
      name: 'conversations',
      title: 'Conversations',
      unit: 'conversations',
      rows: talks((rows) => rows.length),
    },
    {
      ...nightly,
      name: 'settled',
      title: 'Share settled by guests',
      unit: '% of those ended',
      rows: talks((rows) =>
        ended(rows).length === 0 ? null : Math.round((100 * rows.filter(isSettled).length) / ended(rows).length),
      ),
    },
    {
      ...nightly,
      name: 'messages-to-settle',
      title: 'Guest messages to settle, median',
      unit: 'messages',
      rows: talks((rows) => median(rows.filter(isSettled).map((row) => row.guestMessages))),
    },
    {
      ...nightly,
      name: 'time-to-a-human',
      title: 'Time until a human took it, median',
      unit: 'min',
      rows: calls((rows) => median(waits(rows))),
    },
    {
      name: 'callouts-by-hour',
      title: 'Callouts by the hour they began',
      unit: 'callouts',
      of: 'hour',
      drawn: 'columns',
      rows: Array.from({ length: 24 }, (_, index) => {
        const hour = (index + 18) % 24; // from evening to evening, like the night
        return [String(hour).padStart(2, '0'), byHour.get(hour)?.length ?? 0] as const;
      }),
    },
    {
      name: 'matters-by-property',
      title: 'Matters by property',
      unit: 'conversations',
      of: 'property and matter',
      drawn: 'rows',
      rows: tally(conversations.map((row) => `${row.property ?? 'place not known'}: ${matter(row)}`)),
    },
    {
      name: 'matters-by-unit',
      title: 'Matters by unit',
      unit: 'conversations',
      of: 'unit and matter',
      drawn: 'rows',
      rows: tally(conversations.flatMap((row) => (row.tag === null ? [] : [`${row.tag}: ${matter(row)}`]))),
    },
    {
      ...nightly,
      name: 'not-delivered',
      title: 'Texts that could not be delivered',
      unit: 'texts',
      rows: losses((rows) => rows.length),
    },
    {
      ...nightly,
      name: 'cost',
      title: centsAPart === null ? 'Text parts to guests' : 'Cost of texts to guests',
      unit: priced,
      rows: talks((rows) => (centsAPart === null ? partsOf(rows) : Math.round(partsOf(rows) * centsAPart) / 100)),
    },
  ];
}
