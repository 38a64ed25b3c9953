import { ID, yesNo } from './statements.ts';
import type { Statements } from './statements.ts';

/** What differs from the week's pattern of the roster, and who is no longer of it. */
export const rosterChanges: Statements = (kind) => [
  // Callouts of long ago still name those who have left, so their rows stay.
  `alter table people add column ${yesNo('active')} default 1`,
  // On a holiday the week's pattern does not hold: who is on is said by shifts of its own, or nobody is.
  `create table holidays (
    day text primary key check (length(day) = 10),
    name text not null
  )`,
  `create table holiday_shifts (
    ${ID[kind]},
    day text not null references holidays (day),
    person_id integer not null references people (id),
    from_time text not null check (length(from_time) = 5),
    to_time text not null check (length(to_time) = 5),
    position integer not null check (position > 0)
  )`,
  'create index holiday_shifts_by_day on holiday_shifts (day)',
  // Two people who take each other's place in the night that begins on a day. One row a night and pair.
  `create table swaps (
    ${ID[kind]},
    day text not null check (length(day) = 10),
    person_id integer not null references people (id),
    with_id integer not null references people (id),
    check (person_id < with_id),
    unique (day, person_id, with_id)
  )`,
];
