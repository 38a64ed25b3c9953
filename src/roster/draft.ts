/** A roster as someone wrote it into a file, each part with its line, before it is checked. */

export interface AtLine {
  /** Counted from 1. */
  readonly line: number;
  readonly column: number;
}

export interface PersonDraft extends AtLine {
  readonly name: string;
  /** E.164; null where none was written. */
  readonly phone: string | null;
  readonly role: 'technician' | 'owner';
}

export interface WatchDraft extends AtLine {
  /** The person's name. */
  readonly person: string;
  /** "HH:MM"; one that does not end after it starts runs over midnight. */
  readonly from: string;
  readonly to: string;
  readonly position: number;
}

export interface ShiftDraft extends WatchDraft {
  /** Days on which it starts, ISO: 1 is Monday. */
  readonly days: readonly number[];
}

export interface HolidayDraft extends AtLine {
  /** ISO date. */
  readonly day: string;
  readonly name: string;
  readonly shifts: readonly WatchDraft[];
}

export interface RosterDraft {
  readonly zone: string;
  readonly people: readonly PersonDraft[];
  readonly shifts: readonly ShiftDraft[];
  readonly holidays: readonly HolidayDraft[];
}

export interface DraftFault extends AtLine {
  readonly message: string;
}

const fault = ({ line, column }: AtLine, message: string): DraftFault => ({ line, column, message });

function peopleFaults(people: readonly PersonDraft[]): DraftFault[] {
  return people.flatMap((person, index) => {
    const before = people.slice(0, index);
    const sameName = before.find((other) => other.name === person.name);
    const samePhone = before.find((other) => person.phone !== null && other.phone === person.phone);
    return [
      ...(person.phone === null ? [fault(person, `${person.name} has no phone; write one as +19705550100`)] : []),
      ...(sameName
        ? [fault(person, `${person.name} stands in line ${sameName.line} already; keep one of the two`)]
        : []),
      ...(samePhone ? [fault(person, `${person.name} has the phone of ${samePhone.name}; each needs their own`)] : []),
    ];
  });
}

function unknownPeople(draft: RosterDraft): DraftFault[] {
  const names = draft.people.map((person) => person.name);
  const watches = [...draft.shifts, ...draft.holidays.flatMap((holiday) => holiday.shifts)];
  return watches
    .filter((watch) => !names.includes(watch.person))
    .map((watch) =>
      fault(
        watch,
        `nobody is called "${watch.person}"; there are ${names.join(', ') || 'none'}. Name one of them, or add them with a phone`,
      ),
    );
}

const DAY_MIN = 24 * 60;
const WEEK_MIN = 7 * DAY_MIN;

const minutesOf = (time: string): number => Number(time.slice(0, 2)) * 60 + Number(time.slice(3));
const lengthOf = ({ from, to }: WatchDraft): number => (minutesOf(to) - minutesOf(from) + DAY_MIN) % DAY_MIN || DAY_MIN;

/** Whether two stretches of a circle of minutes have one in common. */
function meet(startA: number, lengthA: number, startB: number, lengthB: number, circle: number): boolean {
  return (startB - startA + circle) % circle < lengthA || (startA - startB + circle) % circle < lengthB;
}

function shiftsMeet(a: ShiftDraft, b: ShiftDraft): boolean {
  const starts = (shift: ShiftDraft): number[] => shift.days.map((day) => (day - 1) * DAY_MIN + minutesOf(shift.from));
  return starts(a).some((one) => starts(b).some((other) => meet(one, lengthOf(a), other, lengthOf(b), WEEK_MIN)));
}

function overlaps<W extends WatchDraft>(watches: readonly W[], both: (a: W, b: W) => boolean): DraftFault[] {
  return watches.flatMap((watch, index) => {
    const other = watches.slice(0, index).find((each) => each.position === watch.position && both(each, watch));
    if (other === undefined) return [];
    const message = `${watch.person} overlaps with ${other.person} (line ${other.line}) at position ${watch.position}; change a time, a day or a position`;
    return [fault(watch, message)];
  });
}

function holidayFaults(holidays: readonly HolidayDraft[]): DraftFault[] {
  return holidays.flatMap((holiday, index) => {
    const before = holidays.slice(0, index).find((other) => other.day === holiday.day);
    return [
      ...(before ? [fault(holiday, `${holiday.day} stands in line ${before.line} already; keep one of the two`)] : []),
      ...overlaps(holiday.shifts, (a, b) =>
        meet(minutesOf(a.from), lengthOf(a), minutesOf(b.from), lengthOf(b), WEEK_MIN),
      ),
    ];
  });
}

/** Everything that keeps a roster from being used, in the order of its lines. Gaps do not: they fall to the owner. */
export function faultsOf(draft: RosterDraft): readonly DraftFault[] {
  const faults = [
    ...peopleFaults(draft.people),
    ...unknownPeople(draft),
    ...overlaps(draft.shifts, shiftsMeet),
    ...holidayFaults(draft.holidays),
  ];
  return faults.toSorted((a, b) => a.line - b.line || a.column - b.column);
}
