import { ID, instant } from './statements.ts';
import type { Statements } from './statements.ts';

/** What owners tell the desk of models, rooms and bookings, and what was done with the records as a whole. */
export const told: Statements = (kind) => [
  'alter table model_sheets add column bottle_ml integer check (bottle_ml > 0)',
  'alter table model_sheets add column tubing_m double precision check (tubing_m > 0)',
  'alter table model_sheets add column alarms text',
  'alter table model_sheets add column low_purity_light text',
  `create table rooms (
    ${ID[kind]},
    property_id integer not null references properties (id),
    room text not null check (length(room) between 1 and 20),
    room_key text not null,
    phone text,
    way_in text,
    unique (property_id, room_key)
  )`,
  // The owner's own number of the booking.
  'alter table rentals add column booking text',
  'create unique index rentals_by_booking on rentals (booking)',
  `create table keeping_notes (
    ${ID[kind]},
    ${instant('at')} not null,
    done_by text not null,
    what text not null,
    details_json text not null
  )`,
];
