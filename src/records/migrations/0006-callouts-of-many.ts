import { ID, instant } from './statements.ts';
import type { Statements } from './statements.ts';

/** Callouts that several guests' conversations share, how far the trying has come, and who passed. */
export const calloutsOfMany: Statements = (kind) => [
  'alter table callouts add column round integer not null default 0',
  // What may have hit the neighbours too, and where: "power at 3". Null where it is one unit's own matter.
  'alter table callouts add column cause text',
  "create index callouts_open_by_cause on callouts (cause) where status <> 'done'",
  `create table callout_conversations (
    ${ID[kind]},
    callout_id integer not null references callouts (id),
    conversation_id integer not null references conversations (id),
    ${instant('joined_at')} not null,
    ${instant('told_at')},
    unique (callout_id, conversation_id)
  )`,
  'create index callout_conversations_by_conversation on callout_conversations (conversation_id)',
  `insert into callout_conversations (callout_id, conversation_id, joined_at)
    select id, conversation_id, opened_at from callouts`,
  `alter table offers add column ${instant('passed_at')}`,
  // The last text to the phone could not be delivered, and none has been since.
  `alter table guests add column ${instant('texts_lost_at')}`,
];
