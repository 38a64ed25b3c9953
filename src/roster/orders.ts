import { whoIsOnCall } from './on-call.ts';
import type { Person, Roster } from './roster.ts';
import { stretchesBetween } from './stretches.ts';
import type { Instant } from '../time/instant.ts';

/** A time in which the same people are tried in the same order. */
export interface OrderSpan {
  readonly from: Instant;
  readonly until: Instant;
  /** In the order in which they are tried; empty only when the roster names no one at all. */
  readonly people: readonly Person[];
}

const samePeople = (one: readonly Person[], other: readonly Person[]): boolean =>
  one.length === other.length && one.every((person, index) => person.id === other[index]?.id);

/** Whom a callout would go to from one instant up to, not including, another: a span for each order, without holes. */
export function ordersBetween(roster: Roster, from: Instant, until: Instant): readonly OrderSpan[] {
  const ends = stretchesBetween(roster, from, until).flatMap((stretch) => [stretch.from, stretch.until]);
  const turns = [...new Set([from, ...ends.filter((end) => from < end && end < until)])].toSorted();
  const spans: OrderSpan[] = [];
  for (const [index, turn] of turns.entries()) {
    const span: OrderSpan = { from: turn, until: turns[index + 1] ?? until, people: whoIsOnCall(roster, turn) };
    const before = spans.at(-1);
    if (before !== undefined && samePeople(before.people, span.people)) {
      spans[spans.length - 1] = { ...before, until: span.until };
    } else spans.push(span);
  }
  return spans;
}
