import { ID, instant, yesNo } from './statements.ts';
import type { Statements } from './statements.ts';

/** What the desk learns of rooms and of its own questions. */
export const learned: Statements = (kind) => [
  // Whether an outlet gave power, by a name of its place from a closed list: never in a guest's own words.
  `create table outlet_notes (
    ${ID[kind]},
    property_id integer not null references properties (id),
    room_key text not null,
    room text not null,
    place text not null,
    ${yesNo('worked')},
    ${instant('at')} not null,
    conversation_id integer not null,
    unique (conversation_id, place, worked)
  )`,
  'create index outlet_notes_by_room on outlet_notes (property_id, room_key)',
  // A guest's text that the step could make nothing of.
  `alter table entries add column ${yesNo('missed')} default 0`,
  'create index entries_missed on entries (at) where missed = 1',
];
