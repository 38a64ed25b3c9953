import { ID, instant, yesNo } from './statements.ts';
import type { Statements } from './statements.ts';

/** What guests and the desk have said to each other. */
export const conversations: Statements = (kind) => [
  `create table guests (
    phone text primary key,
    lang text,
    ${instant('opted_out_at')}
  )`,
  `create table flow_versions (
    hash text primary key,
    documents_json text not null,
    ${instant('kept_at')} not null
  )`,
  `create table conversations (
    ${ID[kind]},
    phone text not null references guests (phone),
    rental_id integer references rentals (id),
    property_id integer references properties (id),
    room text,
    lang text not null,
    flow_hash text not null references flow_versions (hash),
    engine integer not null,
    state text not null,
    ${instant('opened_at')} not null,
    ${instant('last_guest_at')} not null,
    guest_messages integer not null,
    last_reply text,
    equal_replies integer not null,
    ${yesNo('place_asked')},
    ending text check (ending in ('emergency', 'see-a-clinician', 'technician', 'settled', 'information', 'gave-up')),
    ${instant('ended_at')},
    check ((ending is null) = (ended_at is null))
  )`,
  'create index conversations_by_phone on conversations (phone, last_guest_at, id)',
  'create index conversations_by_rental on conversations (rental_id)',
  `create table entries (
    ${ID[kind]},
    conversation_id integer not null references conversations (id),
    ${instant('at')} not null,
    who text not null check (who in ('guest', 'desk', 'technician', 'owner')),
    words text not null,
    heard_json text not null,
    step text,
    media_json text not null,
    message_id text unique
  )`,
  'create index entries_by_conversation on entries (conversation_id, id)',
  `create table messages (
    id text primary key,
    phone text not null,
    ${instant('at')} not null,
    reply text,
    reply_entry_id integer references entries (id)
  )`,
];
