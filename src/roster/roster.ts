import type { Day } from '../time/calendar.ts';

export interface Person {
  readonly id: number;
  readonly name: string;
  /** E.164 */
  readonly phone: string;
  readonly role: 'technician' | 'owner';
}

/** Who is on from one time of day to another, in the roster's zone. One whose end is not after its start runs over midnight. */
export interface Watch {
  readonly personId: number;
  /** "HH:MM" */
  readonly from: string;
  readonly to: string;
  /** 1 is tried first. */
  readonly position: number;
}

/** A weekly shift. */
export interface Shift extends Watch {
  /** Days on which the shift starts, ISO: 1 is Monday, 7 is Sunday. */
  readonly days: readonly number[];
}

/** A day on which the week's pattern does not start any shift; these do instead. */
export interface Holiday {
  readonly day: Day;
  readonly name: string;
  readonly shifts: readonly Watch[];
}

/** Two people who take each other's place in one night: the one that begins on the evening of the day. */
export interface Swap {
  readonly day: Day;
  readonly personId: number;
  readonly withId: number;
}

export interface Roster {
  /** IANA zone in which days and times are meant. */
  readonly zone: string;
  readonly people: readonly Person[];
  readonly shifts: readonly Shift[];
  readonly holidays: readonly Holiday[];
  readonly swaps: readonly Swap[];
}
