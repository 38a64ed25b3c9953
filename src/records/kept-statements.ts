import { sql } from 'kysely';
import { Client } from 'pg';

/**
 * In front of a statement that each connection keeps planned, since planning it costs more than doing it. Only for what
 * gives the same columns whatever later migrations add: a plan that does not is refused by the server.
 */
export const KEPT = sql.raw('/* kept */');
const MARK = '/* kept */';

/** Statements differ in the columns they fill, and there are few of them. */
const names = new Map<string, string>();

function nameOf(statement: string): string {
  const known = names.get(statement);
  if (known !== undefined) return known;
  const name = `kept-${names.size}`;
  names.set(statement, name);
  return name;
}

/** A connection that keeps the statements that are marked so. */
export class KeepingClient extends Client {
  // The driver's own method has a dozen shapes; Kysely uses one of them.
  override query = ((...given: unknown[]) => {
    const [text, values, ...more] = given;
    const query: (...given: unknown[]) => unknown = super.query.bind(this);
    if (typeof text !== 'string' || !text.includes(MARK)) return query(...given);
    return query({ name: nameOf(text), text, values }, ...more);
  }) as Client['query'];
}
