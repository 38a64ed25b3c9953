import { instant } from './statements.ts';
import type { Statements } from './statements.ts';

/** Who may look at the desk through a browser, and what they noted there. */
export const pages: Statements = () => [
  // One row: what numbers in addresses and tokens in forms are sealed with.
  'create table page_secret (id integer primary key check (id = 1), secret text not null)',
  `create table passwords (
    person_id integer primary key references people (id),
    hash text not null,
    ${instant('set_at')} not null
  )`,
  // Of a session and a one-time link only a hash is kept: whoever reads the records cannot sign in with it.
  `create table sessions (
    token_hash text primary key,
    person_id integer not null references people (id),
    ${instant('begun_at')} not null,
    ${instant('ends_at')} not null
  )`,
  'create index sessions_by_person on sessions (person_id)',
  `create table password_links (
    token_hash text primary key,
    person_id integer not null references people (id),
    ${instant('ends_at')} not null
  )`,
  'create index password_links_by_person on password_links (person_id)',
  `create table sign_in_tries (
    account text not null,
    ${instant('at')} not null
  )`,
  'create index sign_in_tries_by_account on sign_in_tries (account)',
  'create index sign_in_tries_by_time on sign_in_tries (at)',
  // The token is kept as it is: the text that carries it is kept as work anyway.
  `create table callout_links (
    token text primary key,
    callout_id integer not null references callouts (id),
    person_id integer not null references people (id),
    ${instant('ends_at')} not null,
    ${instant('revoked_at')},
    unique (callout_id, person_id)
  )`,
  'create index callout_links_by_person on callout_links (person_id, callout_id)',
  `create table marks (
    entry_id integer primary key references entries (id),
    person_id integer not null references people (id),
    ${instant('at')} not null,
    expect_json text not null
  )`,
  // A conversation's page looks for the texts that went to its phone.
  'create index work_by_phone on work (phone, due_at) where phone is not null',
  // Texts that did not arrive are few, and counted by night.
  "create index text_states_lost on text_states (at) where state = 'lost'",
  'create index rentals_by_last_day on rentals (last_day)',
  'create index conversations_by_property on conversations (property_id, opened_at)',
];
