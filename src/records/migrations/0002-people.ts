import { ID } from './statements.ts';
import type { Statements } from './statements.ts';

/** Who works for the rental and who is on call when. */
export const people: Statements = (kind) => [
  `create table people (
    ${ID[kind]},
    name text not null,
    phone text not null unique,
    role text not null check (role in ('technician', 'owner'))
  )`,
  // One row: the zone in which all shifts are written.
  'create table roster (id integer primary key check (id = 1), zone text not null)',
  `create table shifts (
    ${ID[kind]},
    person_id integer not null references people (id),
    days_json text not null,
    from_time text not null check (length(from_time) = 5),
    to_time text not null check (length(to_time) = 5),
    position integer not null check (position > 0)
  )`,
  'create index shifts_by_person on shifts (person_id)',
];
