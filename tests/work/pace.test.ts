import { array, assert, integer, property } from 'fast-check';
import { expect, test } from 'vitest';
import { instantOfMs, msOf } from '../../src/time/instant.ts';
import { paceOf } from '../../src/work/pace.ts';
import { fullBucket, takeToken } from '../../src/work/token-bucket.ts';

const START_MS = Date.parse('2026-11-25T09:10:00Z');

/** A pace of so many texts a second, and a clock that is moved by hand. */
function pace(perSecond: number) {
  let ms = START_MS;
  const now = () => instantOfMs(ms);
  const holdBack = paceOf({ perSecond, counts: (kind) => kind === 'text', now });
  let rows = 0;
  return {
    ask: (row: { kind?: string; danger?: boolean; id?: number } = {}) => {
      rows += 1;
      const goesAt = holdBack({ id: row.id ?? rows, kind: row.kind ?? 'text', tries: 1, danger: row.danger ?? false });
      return goesAt === null ? 0 : msOf(goesAt) - START_MS;
    },
    set: (newMs: number) => {
      ms = START_MS + newMs;
    },
  };
}

test('a second’s worth goes at once, and each of the rest is given its own time', () => {
  const { ask } = pace(2);
  expect([ask(), ask(), ask(), ask()]).toEqual([0, 0, 500, 1_000]);
});

test('a row that was given a time goes then, without being asked to wait again', () => {
  const { ask, set } = pace(1);
  ask({ id: 1 });
  expect(ask({ id: 2 })).toBe(1_000);
  expect(ask({ id: 3 })).toBe(2_000);
  set(1_000);
  expect(ask({ id: 2 })).toBe(0);
});

test('danger never waits, and what it took the others wait for', () => {
  const { ask } = pace(1);
  expect([ask(), ask({ danger: true }), ask({ danger: true }), ask()]).toEqual([0, 0, 0, 3_000]);
});

test('work that is no text is not counted', () => {
  const { ask } = pace(1);
  expect([ask({ kind: 'ring' }), ask({ kind: 'ring' }), ask()]).toEqual([0, 0, 0]);
});

test('a clock that is set back holds nothing up for as long as that', () => {
  const { ask, set } = pace(1);
  ask();
  set(-3_600_000);
  expect(ask()).toBe(-3_600_000 + 1_000);
  set(-3_590_000);
  expect(ask({ id: 9 })).toBe(0);
});

test('over any stretch no more begin than a burst and the rate allow', () => {
  assert(
    property(array(integer({ min: 0, max: 700 }), { maxLength: 60 }), integer({ min: 1, max: 5 }), (gaps, rate) => {
      let ms = START_MS;
      let bucket = fullBucket(rate, instantOfMs(ms));
      const begins: number[] = [];
      for (const gap of gaps) {
        ms += gap;
        const taken = takeToken(bucket, rate, instantOfMs(ms));
        bucket = taken.bucket;
        begins.push(msOf(taken.goesAt));
      }
      for (const [index, from] of begins.entries()) {
        const within = begins.slice(index).filter((begin) => begin < from + 10_000).length;
        expect(within).toBeLessThanOrEqual(rate + rate * 10 + 1);
      }
    }),
  );
});
