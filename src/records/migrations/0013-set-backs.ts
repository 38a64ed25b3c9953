import { instant } from './statements.ts';
import type { Statements } from './statements.ts';

/**
 * The latest time that the clock was set back, which all processes of one clock notice and one of them acts on; and how many
 * there were. One row.
 */
export const setBacks: Statements = () => [
  `create table set_backs (
    id integer primary key check (id = 1),
    number integer not null,
    ${instant('from_at')} not null,
    ${instant('to_at')} not null
  )`,
];
