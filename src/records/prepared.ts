import type { Compilable } from 'kysely';
import type { Handle } from './engine.ts';
import { Blank, keepable } from './values.ts';

/** Runs a query with its values. */
export type Prepared<Values, Row> = (handle: Handle, values: Values) => Promise<readonly Row[]>;

/**
 * A query that is built and compiled once and then run with other values each time: building one anew costs Kysely more
 * than SQLite needs to run it. `build` is given blanks in the place of values, so it may pass them on and nothing else; what
 * differs by more than a value is another query.
 */
export function prepared<Values extends object>() {
  return <Row>(build: (handle: Handle, values: Values) => Compilable<Row>): Prepared<Values, Row> => {
    const blanks = new Proxy({}, { get: (_, name) => new Blank(String(name)) }) as Values;
    const compiled = new Map<string, ReturnType<Compilable<Row>['compile']>>();
    return async (handle, values) => {
      const kind = `${handle.kind} ${handle.locks}`;
      let query = compiled.get(kind);
      if (query === undefined) {
        query = build(handle, blanks).compile();
        compiled.set(kind, query);
      }
      const parameters = query.parameters.map((each) =>
        each instanceof Blank ? keepable(values[each.name as keyof Values]) : each,
      );
      const { rows } = await handle.db.executeQuery<Row>({ ...query, parameters });
      return rows;
    };
  };
}
