import { sayProblem } from '../../reading/yaml.ts';
import type { Change, Outcome } from '../../desk/told/told.ts';

/** New things named one by one, of each table; more are only counted. */
const MOST_NAMED = 10;

function newOnes(changes: readonly Change[]): readonly string[] {
  const byTable = Map.groupBy(
    changes.filter(({ what }) => what === 'new'),
    ({ table }) => table,
  );
  return [...byTable].flatMap(([table, of]) => {
    const more = of.length - MOST_NAMED;
    const named = of.slice(0, MOST_NAMED).map(({ name }) => `new         ${name}`);
    return more > 0 ? [...named, `new         and ${more} more ${table}`] : named;
  });
}

function changedOnes(changes: readonly Change[]): readonly string[] {
  return changes
    .filter(({ what }) => what !== 'new')
    .map(({ what, name, fields }) => {
      const differ = fields.map(({ heading, from, to }) => `${heading}: ${from} -> ${to}`).join(', ');
      return `${what.padEnd(11)} ${name}${differ === '' ? '' : `  ${differ}`}`;
    });
}

function counted(changes: readonly Change[], unchanged: number): string {
  const count = (what: Change['what']): number => changes.filter((change) => change.what === what).length;
  return `${count('new')} new, ${count('changed')} changed, ${count('taken away')} taken away, ${unchanged} as on record`;
}

/** What an import would do or has done, line by line. */
export function sayOutcome({ problems, notes, changes, unchanged }: Outcome): readonly string[] {
  const noted = notes.map((note) => `note        ${sayProblem(note)}`);
  if (problems.length > 0) {
    const count = `${problems.length} thing${problems.length === 1 ? ' is' : 's are'} wrong; nothing is changed.`;
    return [...noted, ...problems.map(sayProblem), count];
  }
  return [...newOnes(changes), ...changedOnes(changes), ...noted, `${counted(changes, unchanged)}.`];
}
