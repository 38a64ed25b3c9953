import { ID, instant } from './statements.ts';
import type { Statements } from './statements.ts';

/** What is known of texts under way, of the desk's own life, and of drills. */
export const sending: Statements = (kind) => [
  // Set before something is handed to the carrier, cleared when it surely was not taken.
  `alter table work add column ${instant('attempted_at')}`,
  // Done rows too: what is planned once must be found again after it is done.
  'create index work_by_key on work (key)',
  `create table text_states (
    text text primary key,
    state text not null,
    rank integer not null,
    ${instant('at')} not null
  )`,
  // One row: when the desk last wrote that it lives.
  `create table signs_of_life (
    id integer primary key check (id = 1),
    ${instant('at')} not null
  )`,
  `create table drills (
    ${ID[kind]},
    ${instant('begun_at')} not null
  )`,
  `create table drill_calls (
    drill_id integer not null references drills (id),
    person_id integer not null references people (id),
    ${instant('answered_at')},
    primary key (drill_id, person_id)
  )`,
  'create index conversations_by_opened on conversations (opened_at)',
  'create index callouts_by_opened on callouts (opened_at)',
];
