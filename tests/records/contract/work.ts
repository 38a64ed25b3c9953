import { describe, expect, it } from 'vitest';
import type { NewWork, Records } from '../../../src/desk/records.ts';
import { after } from '../../../src/time/instant.ts';
import type { Instant } from '../../../src/time/instant.ts';
import { GUEST, NIGHT, OTHER_GUEST, workFor } from '../a-night.ts';

const minutes = (count: number): Instant => after(NIGHT, `PT${count}M`);

export function work(records: () => Records): void {
  const add = (...rows: NewWork[]): Promise<void> =>
    records().transaction(async (tx) => {
      for (const row of rows) await tx.addWork(row);
    });
  const claim = (now: Instant, leaseUntil = after(now, 'PT1M')) => records().claimWork(now, leaseUntil);
  /** Claims and does whatever can be done at an instant; the kinds in the order in which they were done. */
  const doAll = async (now: Instant): Promise<string[]> => {
    const done: string[] = [];
    for (let next = await claim(now); next; next = await claim(now)) {
      await records().finishWork(next.id, 'sent', now);
      done.push(next.kind);
    }
    return done;
  };

  describe('work', () => {
    it('comes back with what was added, and its tries raised', async () => {
      const row = workFor(GUEST, 'text', NIGHT, { notAfter: minutes(9), key: 'k', payload: { body: '{"a":1}\u0000' } });
      await add(row);
      expect(await claim(NIGHT)).toEqual({ ...row, id: expect.any(Number), tries: 1, attemptedAt: null });
    });

    it('waits until it is due', async () => {
      await add(workFor(GUEST, 'check-back', minutes(15)));
      expect(await claim(minutes(14))).toBeNull();
      expect((await claim(minutes(15)))?.kind).toBe('check-back');
    });

    it('is done oldest first, danger before everything else', async () => {
      await add(
        workFor(GUEST, 'third', minutes(2)),
        workFor(OTHER_GUEST, 'second', minutes(1)),
        workFor(null, 'danger', minutes(3), { danger: true }),
        workFor(null, 'fourth', minutes(2)),
      );
      expect(await doAll(minutes(3))).toEqual(['danger', 'second', 'third', 'fourth']);
    });

    it('of one guest waits while an older row is being done, and danger does not', async () => {
      await add(
        workFor(GUEST, 'first', minutes(1)),
        workFor(GUEST, 'second', minutes(2)),
        workFor(OTHER_GUEST, 'of another', minutes(3)),
        workFor(GUEST, 'danger', minutes(4), { danger: true }),
      );
      expect((await records().claimWork(minutes(1), minutes(9)))?.kind).toBe('first');
      expect(await doAll(minutes(3))).toEqual(['of another']);
      expect(await doAll(minutes(4))).toEqual(['danger']);
      expect(await doAll(minutes(9))).toEqual(['first', 'second']);
    });

    it('of one guest keeps its order through a back-off, while other guests go on', async () => {
      await add(
        workFor(GUEST, 'first', minutes(0)),
        workFor(GUEST, 'second', minutes(1)),
        workFor(OTHER_GUEST, 'of another', minutes(2)),
        workFor(null, 'of no one', minutes(2)),
      );
      const first = await claim(minutes(0));
      await records().postponeWork(first?.id ?? 0, minutes(5));
      expect(await doAll(minutes(4))).toEqual(['of another', 'of no one']);
      expect(await records().nextDueAt()).toBe(minutes(5));
      expect(await doAll(minutes(5))).toEqual(['first', 'second']);
    });

    it('that is not due yet does not hold up what is due', async () => {
      await add(workFor(GUEST, 'check-back', minutes(15)), workFor(GUEST, 'text', minutes(1)));
      expect(await doAll(minutes(1))).toEqual(['text']);
    });

    it('whose lease ran out is given again, counted as another try', async () => {
      await add(workFor(GUEST, 'text', NIGHT));
      const first = await records().claimWork(NIGHT, minutes(2));
      expect(await claim(minutes(1))).toBeNull();
      expect(await records().nextDueAt()).toBe(minutes(2));
      expect(await claim(minutes(2))).toEqual({ ...first, tries: 2 });
    });

    it('that is done is not given again, whatever its first worker still says', async () => {
      await add(workFor(GUEST, 'text', NIGHT));
      const row = await claim(NIGHT);
      await records().finishWork(row?.id ?? 0, 'sent', NIGHT);
      await records().postponeWork(row?.id ?? 0, NIGHT);
      expect(await claim(minutes(9))).toBeNull();
      expect(await records().nextDueAt()).toBeNull();
    });

    it('with a key is there once until it is done or dropped', async () => {
      const row = (kind: string): NewWork => workFor(GUEST, kind, NIGHT, { key: 'reminder-1' });
      await add(row('one'), row('two'), workFor(GUEST, 'other', NIGHT, { key: 'reminder-10' }));
      expect(await doAll(NIGHT)).toEqual(['one', 'other']);
      await add(row('three'), workFor(GUEST, 'stays', NIGHT, { key: 'reminder-10' }));
      await records().transaction((tx) => tx.dropWork('reminder-1', NIGHT));
      await add(row('four'));
      expect(await doAll(NIGHT)).toEqual(['stays', 'four']);
    });

    it('with a key can be hastened, and put off while it is not due yet', async () => {
      await add(workFor(null, 'watch', minutes(5), { key: 'reply-1' }), workFor(null, 'x', minutes(5), { key: 'x' }));
      await records().transaction((tx) => tx.delayWork('reply-1', minutes(60), minutes(4)));
      expect(await doAll(minutes(59))).toEqual(['x']);
      await records().transaction((tx) => tx.hastenWork('reply-1', minutes(20)));
      await records().transaction((tx) => tx.delayWork('reply-1', minutes(60), minutes(20)));
      expect(await doAll(minutes(20))).toEqual(['watch']);
      await records().transaction((tx) => tx.hastenWork('reply-1', minutes(21)));
      expect(await doAll(minutes(90))).toEqual([]);
    });

    it('planned under a key is planned once, also after it was done', async () => {
      const plan = () =>
        records().transaction((tx) => tx.planWork({ ...workFor(GUEST, 'welcome', NIGHT), key: 'welcome:1' }));
      await plan();
      await plan();
      expect(await doAll(NIGHT)).toEqual(['welcome']);
      await plan();
      expect(await doAll(NIGHT)).toEqual([]);
    });

    it('given back unbegun counts no try and keeps its place', async () => {
      await add(workFor(GUEST, 'first', NIGHT), workFor(GUEST, 'second', NIGHT));
      const first = await claim(NIGHT);
      await records().giveBackWork(first?.id ?? 0, minutes(1));
      expect(await claim(NIGHT)).toBeNull();
      expect(await claim(minutes(1))).toMatchObject({ kind: 'first', tries: 1 });
    });

    it('moved to a later time lets the others of its guest go first', async () => {
      await add(workFor(GUEST, 'first', NIGHT), workFor(GUEST, 'second', NIGHT));
      const first = await claim(NIGHT);
      await records().moveWork(first?.id ?? 0, minutes(9));
      expect(await claim(NIGHT)).toMatchObject({ kind: 'second' });
    });

    it('is held by whoever claimed it last, until it is done', async () => {
      await add(workFor(GUEST, 'text', NIGHT));
      const first = (await claim(NIGHT)) ?? expect.fail('nothing to claim');
      const holds = (row: typeof first) => records().transaction((tx) => tx.holdWork(row));
      expect(await holds(first)).toBe(true);
      const second = (await claim(minutes(9))) ?? expect.fail('its lease did not run out');
      expect([await holds(first), await holds(second)]).toEqual([false, true]);
      await records().finishWork(second.id, 'sent', minutes(9));
      expect(await holds(second)).toBe(false);
    });

    it('keeps the mark of an attempt until it is taken back', async () => {
      await add(workFor(GUEST, 'text', NIGHT));
      const row = await claim(NIGHT);
      await records().transaction((tx) => tx.markAttempt(row?.id ?? 0, NIGHT));
      expect(await claim(minutes(9))).toMatchObject({ attemptedAt: NIGHT });
      await records().transaction((tx) => tx.markAttempt(row?.id ?? 0, null));
      expect(await claim(minutes(19))).toMatchObject({ attemptedAt: null });
    });

    it('finished in a transaction frees its key there, and what that transaction says of it stays', async () => {
      await add(workFor(null, 'refill', NIGHT, { key: 'refill:1' }));
      const row = await claim(NIGHT);
      await records().transaction(async (tx) => {
        await tx.finishWork(row?.id ?? 0, 'reminded', NIGHT);
        await tx.addWork(workFor(null, 'refill', minutes(5), { key: 'refill:1' }));
      });
      await records().finishWork(row?.id ?? 0, 'again', minutes(1));
      expect(await doAll(minutes(5))).toEqual(['refill']);
    });

    it('of some kinds is given with other times, when the clock was set back', async () => {
      await add(workFor(null, 'ring', minutes(60)), workFor(null, 'quiet', minutes(60)));
      const waiting = await records().read((tx) => tx.undoneWork(['ring']));
      expect(waiting.map((row) => row.kind)).toEqual(['ring']);
      await records().transaction(async (tx) => {
        for (const { id } of waiting) await tx.retimeWork(id, { dueAt: minutes(1), notAfter: minutes(2) });
      });
      expect(await claim(minutes(1))).toMatchObject({ kind: 'ring', notAfter: minutes(2) });
    });

    it('is found by its id, done or not', async () => {
      await add(workFor(GUEST, 'text', NIGHT));
      const row = await claim(NIGHT);
      await records().finishWork(row?.id ?? 0, 'sent', NIGHT);
      expect(await records().read((tx) => tx.work(row?.id ?? 0))).toEqual(row);
      expect(await records().read((tx) => tx.work(4_711))).toBeNull();
    });

    it('added by what failed is not there', async () => {
      const failed = records().transaction(async (tx) => {
        await tx.addWork(workFor(GUEST, 'text', NIGHT));
        throw new Error('no');
      });
      await expect(failed).rejects.toThrow('no');
      expect(await claim(NIGHT)).toBeNull();
    });

    it('wakes the loop at the earliest instant at which something can be done', async () => {
      expect(await records().nextDueAt()).toBeNull();
      await add(workFor(GUEST, 'a', minutes(7)), workFor(OTHER_GUEST, 'b', minutes(5)));
      expect(await records().nextDueAt()).toBe(minutes(5));
      // What waits behind a leased row does not: the loop would spin on it.
      await add(workFor(OTHER_GUEST, 'c', minutes(6)));
      await records().claimWork(minutes(5), minutes(30));
      expect(await records().nextDueAt()).toBe(minutes(7));
    });

    it('claimed by many at once goes to each row once', async () => {
      await add(...Array.from({ length: 30 }, (_, index) => workFor(`+1970555${1000 + index}`, `w${index}`, NIGHT)));
      const claimed = await Promise.all(Array.from({ length: 40 }, () => claim(NIGHT)));
      const kinds = claimed.flatMap((row) => (row ? [row.kind] : []));
      expect(kinds).toHaveLength(30);
      expect(new Set(kinds).size).toBe(30);
    });
  });
}
