import type { Problem } from '../../reading/yaml.ts';
import type { Change } from './told.ts';
import { emptiesOf } from './rows.ts';
import type { PlacedRow } from './rows.ts';
import { fieldsOf, headingOf } from './table-kind.ts';
import type { TableKind } from './table-kind.ts';

/** A row beside what it makes of the thing it is about. */
export interface Taken<Row, Entry = Row> {
  readonly row: PlacedRow<Row>;
  readonly entry: Entry;
  readonly change: Change | null;
}

/** A value as it is shown beside another. */
export function shown(value: unknown): string {
  if (value === null) return 'nothing';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (Array.isArray(value)) return value.map(shown).join('; ');
  return typeof value === 'string' ? value : JSON.stringify(value);
}

const same = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);

/** The fields in which two entries differ, by their headings. */
export function differences<Entry extends object>(
  fields: readonly (keyof Entry & string)[],
  before: Entry,
  after: Entry,
): Change['fields'] {
  return fields
    .filter((field) => !same(before[field], after[field]))
    .map((field) => ({ heading: headingOf(field), from: shown(before[field]), to: shown(after[field]) }));
}

/** Rows about one thing twice: the second is refused, since nobody knows which was meant. */
export function repeated<Row>(
  rows: readonly PlacedRow<Row>[],
  keyOf: (given: Row) => string,
  called: (given: Row) => string,
): readonly Problem[] {
  const first = new Map<string, PlacedRow<Row>>();
  return rows.flatMap((row) => {
    const given = row.given as Row;
    const before = first.get(keyOf(given));
    first.set(keyOf(given), before ?? row);
    if (before === undefined) return [];
    const where = before.file === row.file ? `line ${before.line}` : `${before.file}, line ${before.line}`;
    return [row.say(null, `${called(given)} stands in ${where} already; keep one of the two rows`)];
  });
}

/**
 * What each row makes of the thing it is about: new ones are completed, those on record keep what the file does not say.
 *
 * @param named writes the names of other things in a row as those things write them themselves
 */
export function takeRows<Row extends object>(
  kind: TableKind<Row>,
  rows: readonly PlacedRow<Row>[],
  known: ReadonlyMap<string, Row>,
  named: (given: Partial<Row>) => Partial<Row> = (given) => given,
): readonly Taken<Row>[] {
  return rows.map((row) => {
    const given = named(row.given);
    const complete = { ...emptiesOf(kind), ...given } as Row;
    const standing = known.get(kind.keyOf(complete));
    const name = kind.called(standing ?? complete);
    if (standing === undefined) {
      return { row, entry: complete, change: { table: kind.name, what: 'new', name, fields: [] } };
    }
    const identity = Object.fromEntries(kind.identity.map((field) => [field, standing[field]]));
    const entry = { ...standing, ...given, ...identity } as Row;
    const fields = differences(fieldsOf(kind), standing, entry);
    return { row, entry, change: fields.length === 0 ? null : { table: kind.name, what: 'changed', name, fields } };
  });
}
