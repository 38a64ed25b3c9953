import { ID, instant, yesNo } from './statements.ts';
import type { Statements } from './statements.ts';

/** Requests for a human, and everything that is due. */
export const calloutsAndWork: Statements = (kind) => [
  `create table callouts (
    ${ID[kind]},
    key text not null,
    conversation_id integer not null references conversations (id),
    matter text not null,
    urgency text not null check (urgency in ('danger', 'tonight', 'morning')),
    status text not null check (status in ('held', 'ringing', 'taken', 'done')),
    brief text not null,
    ${instant('opened_at')} not null,
    taken_by integer references people (id),
    ${instant('taken_at')},
    ${instant('done_at')},
    note text
  )`,
  "create unique index callouts_open_key on callouts (key) where status <> 'done'",
  'create index callouts_by_conversation on callouts (conversation_id, id)',
  `create table offers (
    ${ID[kind]},
    callout_id integer not null references callouts (id),
    person_id integer not null references people (id),
    ${instant('at')} not null,
    by text not null check (by in ('text', 'call'))
  )`,
  'create index offers_by_callout on offers (callout_id, id)',
  'create index offers_by_person on offers (person_id, callout_id)',
  `create table work (
    ${ID[kind]},
    kind text not null,
    ${instant('due_at')} not null,
    ${instant('free_at')} not null,
    ${instant('not_after')},
    key text,
    phone text,
    ${yesNo('danger')},
    payload_json text not null,
    tries integer not null,
    ${instant('done_at')},
    result text
  )`,
  // Done rows are most of the table and no hot query wants them.
  'create unique index work_undone_key on work (key) where done_at is null',
  'create index work_undone on work (danger, due_at, id) where done_at is null',
  'create index work_undone_of_guest on work (phone, danger, due_at, id) where done_at is null',
  'create index work_undone_free on work (free_at) where done_at is null',
];
