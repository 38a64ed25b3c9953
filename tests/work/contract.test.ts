import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Work } from '../../src/desk/records.ts';
import { openRecords } from '../../src/records/open.ts';
import type { OpenRecords } from '../../src/records/open.ts';
import { after } from '../../src/time/instant.ts';
import type { Outcome } from '../../src/work/do-due.ts';
import { openHandover } from '../../src/work/handover.ts';
import type { Handover } from '../../src/work/handover.ts';
import { startLoop } from '../../src/work/loop.ts';
import { redisToAsk, redisToWait } from '../../src/work/redis.ts';
import type { Rounds } from '../../src/work/rounds.ts';
import { startDangerWatch, startSharedWork } from '../../src/work/shared-work.ts';
import { GUEST, NIGHT, OTHER_GUEST, workFor } from '../records/a-night.ts';
import { POSTGRES_MISSING, freshSqlite, postgresDatabase } from '../records/places.ts';
import type { FreshPlace } from '../records/places.ts';
import { unlessLeftOut } from '../servers.ts';
import { REDIS_MISSING, REDIS_URL, redisPart } from './redis-place.ts';

type DoWork = (row: Work) => Promise<Outcome>;

/** How work gets done: by one loop, or by two processes. Whatever it is, the desk counts on what is checked here. */
interface Workers {
  readonly records: OpenRecords;
  /** Begins. Rows are done by `doWork`; the clock stands. */
  begin(doWork: DoWork): void;
  wake(): void;
  stop(): Promise<void>;
  close(): Promise<void>;
}

const DONE: Outcome = { done: 'well' };
const nothing = (): void => {};

/** Resolves with the kinds in the order in which they were done, once there are so many. */
function counting(many: number, doWork: DoWork = async () => DONE): { doWork: DoWork; done: Promise<string[]> } {
  const kinds: string[] = [];
  const { promise: done, resolve } = Promise.withResolvers<string[]>();
  return {
    done,
    async doWork(row) {
      const outcome = await doWork(row);
      kinds.push(row.kind);
      if (kinds.length === many) resolve(kinds);
      return outcome;
    },
  };
}

async function add(records: OpenRecords, ...rows: Parameters<typeof workFor>[]): Promise<void> {
  await records.transaction(async (tx) => {
    for (const row of rows) await tx.addWork(workFor(...row));
  });
}

function contract(open: () => Promise<Workers>): void {
  let workers: Workers;
  beforeEach(async () => {
    workers = await open();
  });
  afterEach(() => workers.close());

  it('do each row once, those of one guest oldest first', async () => {
    const { records } = workers;
    const guests = Array.from({ length: 5 }, (_, index) => `+1970555010${index}`);
    const rows = guests.flatMap((guest) => [0, 1, 2, 3].map((turn) => [guest, `${guest} ${turn}`] as const));
    await add(records, ...rows.map(([guest, kind]): Parameters<typeof workFor> => [guest, kind, NIGHT]));
    const { doWork, done } = counting(rows.length);
    workers.begin(doWork);
    const kinds = await done;
    await workers.stop();
    expect(kinds.toSorted()).toEqual(rows.map(([, kind]) => kind).toSorted());
    for (const guest of guests) {
      const theirs = kinds.filter((kind) => kind.startsWith(guest));
      expect(theirs).toEqual(theirs.toSorted());
    }
    expect(await records.nextDueAt()).toBeNull();
  });

  it('leave a row that fails for later, and go on with the others', async () => {
    const { records } = workers;
    await add(records, [GUEST, 'broken', NIGHT], [GUEST, 'behind it', NIGHT], [OTHER_GUEST, 'of another', NIGHT]);
    const tried = Promise.withResolvers<void>();
    const { doWork, done } = counting(1, async (row) => {
      if (row.kind !== 'broken') return DONE;
      tried.resolve();
      throw new Error('the carrier is away');
    });
    workers.begin(doWork);
    expect(await done).toEqual(['of another']);
    await tried.promise;
    await workers.stop();
    expect(await records.nextDueAt()).toBe(after(NIGHT, 'PT1M'));
  });

  it('do a row again when it asks for it, and none of its guest before', async () => {
    const { records } = workers;
    await add(records, [GUEST, 'first', NIGHT], [GUEST, 'second', NIGHT]);
    const { doWork, done } = counting(3, async (row) =>
      row.kind === 'first' && row.tries === 1 ? { againAt: NIGHT } : DONE,
    );
    workers.begin(doWork);
    expect(await done).toEqual(['first', 'first', 'second']);
  });

  it('do what is added while they wait, once they are woken', async () => {
    const { records } = workers;
    const { doWork, done } = counting(1);
    workers.begin(doWork);
    await add(records, [GUEST, 'late', NIGHT]);
    workers.wake();
    expect(await done).toEqual(['late']);
  });

  it('finish the row in hand when they are stopped, and begin no other', async () => {
    const { records } = workers;
    await add(records, [GUEST, 'in hand', NIGHT], [GUEST, 'behind it', NIGHT]);
    const begun = Promise.withResolvers<void>();
    const sent = Promise.withResolvers<void>();
    const { doWork, done } = counting(1, async () => {
      begun.resolve();
      await sent.promise;
      return DONE;
    });
    workers.begin(doWork);
    await begun.promise;
    const stopped = workers.stop();
    sent.resolve();
    await stopped;
    expect(await done).toEqual(['in hand']);
    expect(await records.claimWork(NIGHT, NIGHT)).toMatchObject({ kind: 'behind it', tries: 1 });
  });
}

async function oneLoop(place: FreshPlace): Promise<Workers> {
  const records = await openRecords(place.settings);
  let loop: Rounds | null = null;
  return {
    records,
    begin(doWork) {
      loop = startLoop({ table: records, doWork, now: () => NIGHT, note: nothing });
    },
    wake: () => loop?.wake(),
    stop: async () => loop?.stop(),
    async close() {
      await loop?.stop();
      await records.close();
      await place.remove();
    },
  };
}

interface TwoProcesses extends Workers {
  /** The queue, as a process that only answers uses it. */
  readonly handover: Handover;
}

/** Two processes that work, and what a third writes is handed to them. */
async function twoProcesses(place: FreshPlace, prefix: string, redisUrl = REDIS_URL): Promise<TwoProcesses> {
  const isPaced = (kind: string): boolean => kind.startsWith('paced');
  const opened: Handover[] = [];
  const handoverOf = (): Handover => {
    const handover = openHandover({ redis: redisToAsk(redisUrl, nothing), prefix, isPaced });
    opened.push(handover);
    return handover;
  };
  const handover = handoverOf();
  const records = await openRecords(place.settings, (rows) => void handover.hand(rows).catch(nothing));
  const others = await Promise.all([openRecords(place.settings), openRecords(place.settings)]);
  let working: Rounds[] = [];
  const stop = async (): Promise<void> => {
    await Promise.all(working.map((each) => each.stop()));
    working = [];
  };
  return {
    records,
    handover,
    begin(doWork) {
      working = others.map((table) =>
        startSharedWork({
          table,
          doWork,
          handover: handoverOf(),
          redis: redisToWait(redisUrl, nothing),
          prefix,
          perSecond: 1000,
          now: () => NIGHT,
          note: nothing,
        }),
      );
    },
    wake: () => working.forEach((each) => each.wake()),
    stop,
    async close() {
      await stop();
      await Promise.all(opened.map((each) => each.close()));
      await Promise.all([records, ...others].map((each) => each.close()));
      await place.remove();
    },
  };
}

describe('work by a loop on SQLite', () => contract(async () => oneLoop(await freshSqlite())));

describe.skipIf(POSTGRES_MISSING !== null)(`work by a loop on Postgres${unlessLeftOut(POSTGRES_MISSING)}`, () => {
  const fresh = postgresDatabase();
  contract(async () => oneLoop(await fresh()));
});

const QUEUE_MISSING = POSTGRES_MISSING ?? REDIS_MISSING;

describe.skipIf(QUEUE_MISSING !== null)(
  `work by two processes on Postgres and Redis${unlessLeftOut(QUEUE_MISSING)}`,
  () => {
    const fresh = postgresDatabase();
    const { prefix, keys, valueOf, empty } = redisPart();
    contract(async () => twoProcesses(await fresh(), prefix));

    describe('besides', () => {
      let workers: TwoProcesses;
      beforeEach(async () => {
        await empty();
        workers = await twoProcesses(await fresh(), prefix);
      });
      afterEach(() => workers.close());

      it('get danger done while a text of the same guest hangs', async () => {
        const hanging = Promise.withResolvers<void>();
        const begun = Promise.withResolvers<void>();
        const { doWork, done } = counting(1, async (row) => {
          if (row.kind !== 'paced reminder') return DONE;
          begun.resolve();
          await hanging.promise;
          return DONE;
        });
        workers.begin(doWork);
        await add(workers.records, [GUEST, 'paced reminder', NIGHT]);
        await begun.promise;
        await add(workers.records, [GUEST, 'callout', NIGHT, { danger: true }]);
        workers.wake();
        expect(await done).toEqual(['callout']);
        hanging.resolve();
      });

      it('lose nothing when Redis is emptied', async () => {
        await add(workers.records, [GUEST, 'one', NIGHT], [OTHER_GUEST, 'two', NIGHT]);
        await empty();
        const { doWork, done } = counting(2);
        workers.begin(doWork);
        expect((await done).toSorted()).toEqual(['one', 'two']);
      });

      it('take a row that is handed over again and again for one', async () => {
        await add(workers.records, [GUEST, 'one', NIGHT]);
        const due = await workers.records.dueWork(NIGHT, 10);
        await workers.handover.connected();
        for (let again = 0; again < 3; again += 1) await workers.handover.hand(due);
        expect((await keys()).filter((key) => /:w-/.test(key))).toEqual([`${prefix}:unpaced:w-${due[0]?.id}-0`]);
        const { doWork, done } = counting(2);
        workers.begin(doWork);
        // A job that comes too late, for a row that may be done by then.
        await workers.handover.hand(due);
        await add(workers.records, [OTHER_GUEST, 'two', NIGHT]);
        workers.wake();
        const kinds = await done;
        await workers.stop();
        expect(kinds.toSorted()).toEqual(['one', 'two']);
      });

      it('tell Redis no phone and no word of a guest', async () => {
        await workers.handover.connected();
        await add(workers.records, [GUEST, 'text', NIGHT, { payload: { to: GUEST, body: 'my chest hurts' } }]);
        await workers.handover.hand(await workers.records.dueWork(NIGHT, 10));
        const jobs = JSON.stringify(await Promise.all((await keys()).filter((key) => /:w-/.test(key)).map(valueOf)));
        expect(jobs).toMatch(/row\W+\d+/);
        expect(jobs).not.toContain(GUEST.slice(2));
        expect(jobs).not.toContain('chest');
      });
    });

    it('does the work straight from the table while Redis is away', async () => {
      const workers = await twoProcesses(await fresh(), prefix, 'redis://127.0.0.1:1');
      try {
        await add(workers.records, [GUEST, 'one', NIGHT], [GUEST, 'two', NIGHT, { danger: true }]);
        const { doWork, done } = counting(2);
        workers.begin(doWork);
        expect((await done).toSorted()).toEqual(['one', 'two']);
      } finally {
        await workers.close();
      }
    });

    it('leaves danger that no worker does to those who answer, and nothing else', async () => {
      const place = await fresh();
      const records = await openRecords(place.settings);
      await add(
        records,
        [GUEST, 'reminder', after(NIGHT, '-PT1M')],
        [GUEST, 'late danger', after(NIGHT, '-PT20S'), { danger: true }],
        [OTHER_GUEST, 'danger of now', NIGHT, { danger: true }],
      );
      const { doWork, done } = counting(1);
      const watch = startDangerWatch({ table: records, doWork, now: () => NIGHT, note: nothing });
      expect(await done).toEqual(['late danger']);
      await watch.stop();
      expect((await records.dueWork(NIGHT, 10)).map(({ kind }) => kind)).toEqual(['danger of now', 'reminder']);
      await records.close();
      await place.remove();
    });
  },
);
