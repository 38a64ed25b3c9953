import { instant } from './statements.ts';
import type { Statements } from './statements.ts';

/** How many texts of a phone came close together, kept with what is written at each of them anyway. */
export const bursts: Statements = () => [
  `alter table conversations add column ${instant('burst_since')}`,
  'alter table conversations add column burst_texts integer not null default 0',
];
