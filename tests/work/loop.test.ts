import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { after, instantOfMs } from '../../src/time/instant.ts';
import type { Instant } from '../../src/time/instant.ts';
import { startLoop } from '../../src/work/loop.ts';
import type { Rounds } from '../../src/work/rounds.ts';
import { tableInMemory } from './table-in-memory.ts';

// The loop's own sleep is the thing under test: the clock and the timers are moved by hand.
beforeEach(() => void vi.useFakeTimers({ now: Date.parse('2026-11-25T09:10:00Z') }));
afterEach(() => void vi.useRealTimers());

const now = (): Instant => instantOfMs(Date.now());
const pass = (ms: number): Promise<unknown> => vi.advanceTimersByTimeAsync(ms);

function running(rows: readonly { kind: string; dueAt: Instant }[] = []) {
  const table = tableInMemory(rows);
  const noted: string[] = [];
  const loop: Rounds = startLoop({
    table,
    doWork: () => Promise.resolve({ done: 'well' }),
    now,
    note: (event) => void noted.push(event),
  });
  return { table, loop, noted };
}

test('the loop does what is due at once, and the rest when its time comes', async () => {
  const { table, loop } = running([
    { kind: 'now', dueAt: now() },
    { kind: 'soon', dueAt: after(now(), 'PT10S') },
  ]);
  await pass(0);
  expect(table.results()).toEqual({ now: 'well' });
  await pass(9_999);
  expect(table.results()).toEqual({ now: 'well' });
  await pass(1);
  expect(table.results()).toEqual({ now: 'well', soon: 'well' });
  await loop.stop();
});

test('woken, it does not sleep on what has just been added', async () => {
  const { table, loop } = running();
  await pass(1_000);
  table.add({ kind: 'danger', dueAt: now() });
  loop.wake();
  await pass(0);
  expect(table.results()).toEqual({ danger: 'well' });
  await loop.stop();
});

test('not woken, it looks at the table after half a minute at the latest', async () => {
  const { table, loop } = running();
  await pass(1_000);
  table.add({ kind: 'by another process', dueAt: now() });
  await pass(30_000);
  expect(table.results()).toEqual({ 'by another process': 'well' });
  await loop.stop();
});

test('a table that cannot be read is noted, and asked again without haste', async () => {
  const { table, loop, noted } = running();
  await pass(0);
  table.readable = false;
  table.add({ kind: 'waiting', dueAt: now() });
  loop.wake();
  await pass(5_000);
  expect(noted.length).toBeGreaterThan(0);
  expect(noted.length).toBeLessThanOrEqual(4);
  table.readable = true;
  await pass(2_000);
  expect(table.results()).toEqual({ waiting: 'well' });
  await loop.stop();
});

test('stopped, it finishes the row in hand and begins no other', async () => {
  const table = tableInMemory([{ kind: 'in hand', dueAt: now() }]);
  const { promise: sent, resolve: finish } = Promise.withResolvers<{ done: string }>();
  const loop = startLoop({ table, doWork: () => sent, now, note: () => {} });
  await pass(0);
  const stopped = loop.stop();
  finish({ done: 'well' });
  await stopped;
  expect(table.results()).toEqual({ 'in hand': 'well' });
  table.add({ kind: 'too late', dueAt: now() });
  loop.wake();
  await pass(60_000);
  expect(table.results()).toEqual({ 'in hand': 'well' });
});
