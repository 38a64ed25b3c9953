import type { Instant } from "../time/instant.ts";
import { wallClock } from "../time/instant.ts";

export interface Person {
  readonly id: number;
  readonly name: string;
  /** E.164 */
  readonly phone: string;
  readonly role: "technician" | "owner";
}

/** A weekly shift in the roster's zone. A shift whose end is not after its start runs over midnight. */
export interface Shift {
  readonly personId: number;
  /** Days on which the shift starts, ISO: 1 is Monday, 7 is Sunday. */
  readonly days: readonly number[];
  /** "HH:MM" */
  readonly from: string;
  readonly to: string;
  /** 1 is tried first. */
  readonly position: number;
}

export interface Roster {
  readonly zone: string;
  readonly people: readonly Person[];
  readonly shifts: readonly Shift[];
}

function covers(shift: Shift, day: number, time: string): boolean {
  const dayBefore = day === 1 ? 7 : day - 1;
  if (shift.from < shift.to) return shift.days.includes(day) && shift.from <= time && time < shift.to;
  return (shift.days.includes(day) && time >= shift.from) || (shift.days.includes(dayBefore) && time < shift.to);
}

/**
 * Who is tried at an instant, in order: those on shift by position, then the owners. Nobody twice. A gap in the shifts
 * therefore falls to the owner. Empty only when the roster names no one at all.
 */
export function whoIsOnCall(roster: Roster, instant: Instant): readonly Person[] {
  const here = wallClock(instant, roster.zone);
  const time = here.toPlainTime().toString({ smallestUnit: "minute" });
  const onShift = roster.shifts
    .filter((shift) => covers(shift, here.dayOfWeek, time))
    .toSorted((a, b) => a.position - b.position)
    .map((shift) => roster.people.find((person) => person.id === shift.personId))
    .filter((person) => person !== undefined);
  const owners = roster.people.filter((person) => person.role === "owner");
  return [...new Set([...onShift, ...owners])];
}
