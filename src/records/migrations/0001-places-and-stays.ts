import { ID, yesNo } from './statements.ts';
import type { Statements } from './statements.ts';

/** Where units stand and who has rented them. */
export const placesAndStays: Statements = (kind) => [
  `create table properties (
    ${ID[kind]},
    name text not null unique,
    street_address text not null check (length(street_address) between 1 and 60),
    elevation_m integer not null,
    zone text not null,
    emergency_number text not null,
    dispatch_number text,
    front_desk_phone text,
    entrance text,
    ${yesNo('text_to_emergency')}
  )`,
  `create table model_sheets (
    ${ID[kind]},
    name text not null unique,
    maximum_flow_rate_lpm double precision not null check (maximum_flow_rate_lpm > 0),
    rated_elevation_m integer,
    power_draw_w integer
  )`,
  `create table units (
    ${ID[kind]},
    tag text not null,
    tag_key text not null unique,
    model_sheet_id integer not null references model_sheets (id)
  )`,
  `create table rentals (
    ${ID[kind]},
    guest_name text not null,
    property_id integer not null references properties (id),
    room text not null check (length(room) between 1 and 20),
    room_key text not null,
    unit_id integer not null references units (id),
    first_day text not null check (length(first_day) = 10),
    last_day text not null check (length(last_day) = 10),
    people integer not null check (people > 0),
    ${yesNo('fragile')},
    age_group text not null check (age_group in ('adult', 'child')),
    order_json text,
    ${yesNo('cylinder')},
    ${yesNo('oxygen_at_home')},
    check (first_day <= last_day)
  )`,
  'create index rentals_by_unit on rentals (unit_id, last_day)',
  'create index rentals_by_room on rentals (room_key, last_day)',
  'create index rentals_by_property on rentals (property_id, last_day)',
  `create table rental_phones (
    rental_id integer not null references rentals (id),
    phone text not null,
    primary key (rental_id, phone)
  )`,
  'create index rental_phones_by_phone on rental_phones (phone)',
  `create table setting_sheets (
    ${ID[kind]},
    signed_by text not null,
    signed_on text not null check (length(signed_on) = 10),
    lines_json text not null,
    unique (signed_on, signed_by)
  )`,
];
