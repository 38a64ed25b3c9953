import { ID, instant } from './statements.ts';
import type { Statements } from './statements.ts';

/** Calls that come in, and the messages that callers leave. */
export const voice: Statements = (kind) => [
  `create table incoming_calls (
    ${ID[kind]},
    call_id text not null unique,
    phone text not null references guests (phone),
    lang text not null,
    conversation_id integer references conversations (id),
    waits_for integer references callouts (id),
    standing_json text not null,
    ${instant('opened_at')} not null,
    ${instant('ended_at')}
  )`,
  'create index incoming_calls_by_callout on incoming_calls (waits_for)',
  `create table recordings (
    ${ID[kind]},
    callout_id integer not null references callouts (id),
    conversation_id integer not null references conversations (id),
    address text not null unique,
    length_s integer not null,
    ${instant('at')} not null
  )`,
  'create index recordings_by_callout on recordings (callout_id, id)',
];
