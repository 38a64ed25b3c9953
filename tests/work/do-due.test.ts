import { expect, test } from 'vitest';
import { after, instantOf } from '../../src/time/instant.ts';
import type { Instant } from '../../src/time/instant.ts';
import { doAllDue } from '../../src/work/do-due.ts';
import { tableInMemory } from './table-in-memory.ts';
import type { Row } from './table-in-memory.ts';

const NOW = instantOf('2026-11-25T09:10:00Z');

function worker(
  rows: readonly { kind: string; dueAt?: Instant }[],
  doWork: (row: Row) => Promise<{ done: string } | { againAt: Instant }>,
) {
  const table = tableInMemory(rows.map(({ kind, dueAt = NOW }) => ({ kind, dueAt })));
  const noted: string[] = [];
  return { table, noted, parts: { table, doWork, now: () => NOW, note: (event: string) => void noted.push(event) } };
}

test('everything that is due is done, oldest first, and what is not yet due is left', async () => {
  const seen: string[] = [];
  const { table, parts } = worker(
    [{ kind: 'later', dueAt: after(NOW, 'PT1S') }, { kind: 'second' }, { kind: 'first', dueAt: after(NOW, '-PT1H') }],
    (row) => {
      seen.push(row.kind);
      return Promise.resolve({ done: 'well' });
    },
  );
  expect(await doAllDue(parts)).toBe(2);
  expect(seen).toEqual(['first', 'second']);
  expect(table.results()).toEqual({ first: 'well', second: 'well' });
});

test('a clock that is set back in the middle of a round is looked at before the next row', async () => {
  let clock = NOW;
  const looked: Instant[] = [];
  const { parts } = worker([{ kind: 'one' }, { kind: 'two', dueAt: after(NOW, '-PT2H') }], () => {
    clock = after(NOW, '-PT1H');
    return Promise.resolve({ done: 'well' });
  });
  await doAllDue({ ...parts, now: () => clock, beforeClaiming: () => Promise.resolve(void looked.push(clock)) });
  expect(looked).toEqual([NOW, after(NOW, '-PT1H')]);
});

test('what falls due by doing it is done as well', async () => {
  const { table, parts } = worker([{ kind: 'one' }], (row) => {
    if (row.kind === 'one') table.add({ kind: 'two', dueAt: NOW });
    return Promise.resolve({ done: 'well' });
  });
  expect(await doAllDue(parts)).toBe(2);
  expect(Object.keys(table.results())).toEqual(['one', 'two']);
});

test('a row that is to be tried again keeps its place until then', async () => {
  const { table, parts } = worker([{ kind: 'busy' }], () => Promise.resolve({ againAt: after(NOW, 'PT5S') }));
  expect(await doAllDue(parts)).toBe(1);
  expect(table.results()).toEqual({});
  expect(await table.nextDueAt()).toBe(after(NOW, 'PT5S'));
});

test('a row that fails is noted and tried again later, and holds up no other', async () => {
  const { table, noted, parts } = worker([{ kind: 'broken' }, { kind: 'whole' }], (row) =>
    row.kind === 'broken' ? Promise.reject(new Error('no')) : Promise.resolve({ done: 'well' }),
  );
  await doAllDue(parts);
  expect(table.results()).toEqual({ whole: 'well' });
  expect(noted).toEqual(['due work failed; it is tried again']);
  expect(await table.nextDueAt()).toBe(after(NOW, 'PT1M'));
});

test('a row is leased for longer than it may take before it is done', async () => {
  let leasedUntil: Instant | null = null;
  const { table, parts } = worker([{ kind: 'one' }], async () => {
    leasedUntil = await table.nextDueAt();
    return { done: 'well' };
  });
  await doAllDue(parts);
  expect(leasedUntil).toBe(after(NOW, 'PT1M'));
});
