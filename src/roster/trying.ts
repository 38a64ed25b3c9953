import { after, nextLocalHour, wallClock } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import type { Person } from './roster.ts';

/** How soon a human is wanted: in danger at once; tonight; or only in the morning. */
export type Urgency = 'danger' | 'tonight' | 'morning';

export interface Attempt {
  readonly person: Person;
  readonly by: 'text' | 'call';
}

/** How the people on the list are tried, by urgency. One round follows the other until someone takes the callout. */
export const TRYING: Readonly<Record<Urgency, { readonly wait: string; readonly steps: readonly Attempt['by'][] }>> = {
  /** Text and call together; the list is gone through a person a minute. */
  danger: { wait: 'PT1M', steps: ['text'] },
  /** A text, and a call to the same person five minutes later; then the next person. */
  tonight: { wait: 'PT5M', steps: ['text', 'call'] },
  /** Texts only: nobody is rung at breakfast about a pick-up. */
  morning: { wait: 'PT1H', steps: ['text'] },
};

/** Daybreak, local time: until then what is for the morning is held. */
export const MORNING_HOUR = 7;
/** From this hour on what is for the morning waits for the next one. */
const EVENING_HOUR = 21;

/** When the round after one at `now` is due, in the zone of the place: what was for the morning wakes nobody at night either. */
export function nextRoundAt(urgency: Urgency, zone: string, now: Instant): Instant {
  const next = after(now, TRYING[urgency].wait);
  const { hour } = wallClock(next, zone);
  const atNight = hour < MORNING_HOUR || hour >= EVENING_HOUR;
  return urgency === 'morning' && atNight ? nextLocalHour(next, zone, MORNING_HOUR) : next;
}

/** In danger, from this round on, the texts of a round go to the next person and to the owners as well. */
const WIDER_FROM_ROUND = 2;

/**
 * How many rounds it takes to go through the list once. Whoever cannot be reached costs no wait within a pass; a new
 * pass always waits, or a night in which nobody can be reached would be a storm of calls.
 */
export function roundsOfAPass(urgency: Urgency, people: number): number {
  const rounds = Math.max(1, people) * TRYING[urgency].steps.length;
  return urgency === 'danger' ? Math.max(rounds, WIDER_FROM_ROUND + 1) : rounds;
}

/** The first round of the pass after the one that a round is of. */
export function nextPass(urgency: Urgency, people: number, round: number): number {
  const rounds = roundsOfAPass(urgency, people);
  return (Math.floor(round / rounds) + 1) * rounds;
}

function tryInDanger(people: readonly Person[], round: number, called: Person): readonly Attempt[] {
  const texted =
    round < WIDER_FROM_ROUND
      ? people.slice(0, 1)
      : people.filter((person, index) => index < 2 || person.role === 'owner' || person === called);
  return [...texted.map((person): Attempt => ({ person, by: 'text' })), { person: called, by: 'call' }];
}

/**
 * Whom a round tries, and how. In danger a text goes to the first on the list at once and each minute, from the second
 * minute also to the next and the owners, while calls go through the whole list, one person a round. Otherwise the list
 * is gone through one after the other.
 *
 * @param people in the order of trying, the owner last
 * @param round counted from 0
 */
export function whomToTry(urgency: Urgency, people: readonly Person[], round: number): readonly Attempt[] {
  const inPass = round % roundsOfAPass(urgency, people.length);
  const { steps } = TRYING[urgency];
  const person = people[Math.floor(inPass / steps.length) % Math.max(1, people.length)];
  const by = steps[inPass % steps.length];
  if (person === undefined || by === undefined) return [];
  return urgency === 'danger' ? tryInDanger(people, round, person) : [{ person, by }];
}
