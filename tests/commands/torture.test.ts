import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { POSTGRES_MISSING } from '../records/places.ts';
import { unlessLeftOut } from '../servers.ts';
import { REDIS_MISSING } from '../work/redis-place.ts';
import type { CompanyLog } from '../../src/commands/torture/company-log.ts';
import { FAULTS } from '../../src/commands/torture/faults.ts';
import type { Fault } from '../../src/commands/torture/faults.ts';
import { GUARANTEES } from '../../src/commands/torture/guarantees/broken.ts';
import type { Guarantee } from '../../src/commands/torture/guarantees/broken.ts';
import { brokenIn } from '../../src/commands/torture/judge.ts';
import type { Seen } from '../../src/commands/torture/seen.ts';
import { DIRECT_NUMBER, runTrial } from '../../src/commands/torture/trial.ts';

const TIMEOUT_MS = 240_000;
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'nightbell-torture-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const MISSING = POSTGRES_MISSING ?? REDIS_MISSING;

function faultNamed(name: string): Fault {
  return FAULTS.find((fault) => fault.name === name) ?? expect.fail(`there is no fault "${name}"`);
}

/** What was seen in a night, changed as if the desk had broken a promise. */
interface Night {
  readonly log: CompanyLog;
  readonly seen: Seen;
}
type Break = (night: Night) => Night;

function one<T>(rows: readonly T[], fits: (row: T) => boolean, what: string): T {
  return rows.find(fits) ?? expect.fail(`the night had no ${what}`);
}

const without = <T>(rows: readonly T[], row: T): T[] => rows.filter((each) => each !== row);
const instead = <T>(rows: readonly T[], row: T, other: T): T[] => rows.map((each) => (each === row ? other : each));

/** A guest's text that was answered with a reply of the records. */
const answered = ({ log, seen }: Night) =>
  one(
    log.texts,
    ({ who, id, deliveries }) =>
      who === 'guest' &&
      seen.entries.some((entry) => entry.message_id === id) &&
      deliveries.some(({ answer }) => answer !== null && answer.entryId !== null),
    'text that was answered',
  );
const entryOf = ({ seen }: Night, id: string) => one(seen.entries, ({ message_id }) => message_id === id, 'such entry');
const ringing = ({ seen }: Night) =>
  one(seen.callouts, ({ status, urgency }) => status === 'ringing' && urgency === 'danger', 'ringing danger callout');
const sentText = ({ log, seen }: Night, kind: string) =>
  one(
    log.handed,
    ({ work, taken, told }) => taken && told && seen.work.some((row) => row.id === work && row.kind === kind),
    `${kind} that was sent`,
  );
/** Long after all that was done to the desk. */
const LATER = 1e9;

const BREAKS: readonly (readonly [string, Guarantee, Break])[] = [
  [
    'an answered text that is in no records',
    'every accepted text has one entry',
    (night) => {
      const entry = entryOf(night, answered(night).id);
      return { ...night, seen: { ...night.seen, entries: without(night.seen.entries, entry) } };
    },
  ],
  [
    'a text that was taken twice',
    'every accepted text has one entry',
    (night) => {
      const entry = entryOf(night, answered(night).id);
      return { ...night, seen: { ...night.seen, entries: [...night.seen.entries, { ...entry, id: LATER }] } };
    },
  ],
  [
    'another reply at the second delivery',
    'every accepted text has one reply',
    (night) => {
      const text = answered(night);
      const [first] = text.deliveries.filter(({ answer }) => answer !== null);
      const again = { at: 0, endedAt: 0, answer: { reply: 'Another.', entryId: first?.answer?.entryId ?? null } };
      const other = { ...text, deliveries: [...text.deliveries, again] };
      return { ...night, log: { ...night.log, texts: instead(night.log.texts, text, other) } };
    },
  ],
  [
    'a reply that never came to the guest',
    'every accepted text has one reply',
    (night) => {
      const text = answered(night);
      const entry = one(night.seen.messages, ({ id }) => id === text.id, 'such message').reply_entry_id;
      const later = new Set(night.seen.work.filter(({ payload }) => payload.entryId === entry).map(({ id }) => id));
      const log = {
        ...night.log,
        texts: instead(night.log.texts, text, { ...text, deliveries: [{ at: 0, endedAt: 0, answer: null }] }),
        handed: night.log.handed.filter(({ work }) => !later.has(work)),
      };
      return { ...night, log };
    },
  ],
  [
    'danger that woke nobody',
    'every danger text has a callout',
    (night) => {
      const text = one(night.log.texts, ({ danger }) => danger, 'danger text');
      const { conversation_id: conversation } = entryOf(night, text.id);
      const shares = night.seen.shares.filter(({ conversation_id }) => conversation_id !== conversation);
      return { ...night, seen: { ...night.seen, shares } };
    },
  ],
  [
    'a callout of which nobody was told',
    'no callout is lost',
    (night) => {
      const { id } = ringing(night);
      const tries = new Set(
        night.seen.work
          .filter(
            ({ payload: { calloutId, round } }) =>
              calloutId === id || (typeof round === 'object' && round.calloutId === id),
          )
          .map((row) => row.id),
      );
      return { ...night, log: { ...night.log, handed: night.log.handed.filter(({ work }) => !tries.has(work)) } };
    },
  ],
  [
    'a callout that rings no more',
    'no callout is lost',
    (night) => {
      const { id } = ringing(night);
      const work = night.seen.work.filter(({ kind, payload }) => kind !== 'ring' || payload.calloutId !== id);
      return { ...night, seen: { ...night.seen, work } };
    },
  ],
  [
    'a guest who does not know that nobody comes',
    'no callout is untaken in silence',
    (night) => {
      const handed = night.log.handed.filter(({ body }) => !body.includes(DIRECT_NUMBER));
      return { ...night, log: { ...night.log, handed } };
    },
  ],
  [
    'a text of a callout sent twice without need',
    'nobody is told twice',
    (night) => {
      const sent = { ...sentText(night, 'text'), at: LATER };
      const handed = [...night.log.handed, sent, { ...sent, id: 'SMagain', at: LATER + 1 }];
      return { ...night, log: { ...night.log, handed } };
    },
  ],
  [
    'a notice sent twice, even where the desk was killed in between',
    'nobody is told twice',
    ({ log, seen }) => {
      const sent = sentText({ log, seen }, 'text');
      const row = one(seen.work, ({ id }) => id === sent.work, 'such row');
      const killed = { what: 'SIGKILL', from: sent.at, to: sent.at };
      const twice = [...log.handed, { ...sent, id: 'SMagain' }];
      return {
        log: { ...log, handed: twice, disturbances: [...log.disturbances, killed] },
        seen: { ...seen, work: instead(seen.work, row, { ...row, kind: 'notice', danger: false }) },
      };
    },
  ],
  [
    'a reply said again that had arrived',
    'nobody is told twice',
    (night) => {
      const watch = one(night.seen.work, ({ kind }) => kind === 'reply-watch', 'watch of a reply');
      const report = { about: 'reply', row: watch.payload.entryId ?? 0, status: 'delivered', takenAt: 0 } as const;
      const sent = { ...sentText(night, 'text'), id: 'SMwatch', work: watch.id, at: LATER };
      const { reports, handed } = night.log;
      return { ...night, log: { ...night.log, reports: [...reports, report], handed: [...handed, sent] } };
    },
  ],
  [
    'a person texted twice in a round',
    'nobody is told twice',
    (night) => {
      const row = one(
        night.seen.work,
        ({ kind, payload }) => kind === 'text' && typeof payload.round === 'object',
        'round',
      );
      return { ...night, seen: { ...night.seen, work: [...night.seen.work, { ...row, id: LATER }] } };
    },
  ],
  [
    'a text that the records call sent, and nobody took',
    'what is sent is in the records, and the other way round',
    (night) => {
      const sent = sentText(night, 'text');
      return { ...night, log: { ...night.log, handed: without(night.log.handed, sent) } };
    },
  ],
  [
    'a text that the records know nothing of',
    'what is sent is in the records, and the other way round',
    (night) => {
      const sent = { ...sentText(night, 'text'), id: 'SMunknown', work: LATER };
      return { ...night, log: { ...night.log, handed: [...night.log.handed, sent] } };
    },
  ],
  [
    'a callout text given up in doubt',
    'what is sent is in the records, and the other way round',
    (night) => {
      const row = one(night.seen.work, ({ kind, danger }) => kind === 'text' && danger, 'danger text');
      const lost = { ...row, result: 'may have been sent; not sent again' };
      return { ...night, seen: { ...night.seen, work: instead(night.seen.work, row, lost) } };
    },
  ],
  [
    'two texts of a guest in the wrong order',
    'the order of each guest is kept',
    (night) => {
      const first = answered(night);
      const second = one(
        night.log.texts,
        ({ id, from, deliveries }) =>
          from === first.from &&
          id !== first.id &&
          deliveries.some(({ answer }) => answer !== null && answer.entryId !== null),
        'second text of that guest',
      );
      const [a, b] = [entryOf(night, first.id), entryOf(night, second.id)];
      const entries = night.seen.entries.map((entry) => (entry === a ? b : entry === b ? a : entry));
      return { ...night, seen: { ...night.seen, entries } };
    },
  ],
  [
    'two texts to a guest in the wrong order',
    'the order of each guest is kept',
    (night) => {
      const row = one(
        night.seen.work,
        ({ id, kind, payload }) =>
          kind === 'text' &&
          typeof payload.entryId === 'number' &&
          night.log.handed.some((each) => each.work === id && each.taken),
        'text to a guest',
      );
      const younger = { ...row, id: LATER, payload: { ...row.payload, entryId: LATER } };
      const early = { ...sentText(night, 'text'), id: 'SMearly', work: LATER, at: -1 };
      return {
        log: { ...night.log, handed: [...night.log.handed, early] },
        seen: { ...night.seen, work: [...night.seen.work, younger] },
      };
    },
  ],
  [
    'work that nobody does',
    'nothing due is left undone',
    (night) => {
      const [row] = night.seen.work;
      const left = {
        ...(row ?? expect.fail('no work')),
        done_at: null,
        free_at: night.seen.now,
      } as Seen['work'][number];
      return { ...night, seen: { ...night.seen, work: [...night.seen.work, left] } };
    },
  ],
];

describe('a night in which the one process is killed three times', { timeout: TIMEOUT_MS }, () => {
  let night: Night;
  beforeAll(async () => {
    night = await runTrial(faultNamed('killed, one process'), 3, 7, join(folder, 'one'));
  }, TIMEOUT_MS);

  test('keeps every promise, and has in it what promises are about', () => {
    expect(brokenIn(night.log, night.seen, DIRECT_NUMBER)).toEqual([]);
    expect(night.log.disturbances.filter(({ what }) => what.startsWith('SIGKILL'))).toHaveLength(3);
    expect(night.log.texts.length).toBeGreaterThan(50);
  });

  test.each(BREAKS)('%s is seen', (_, guarantee, breakIt) => {
    const { log, seen } = breakIt(night);
    expect(brokenIn(log, seen, DIRECT_NUMBER).map((each) => each.guarantee)).toContain(guarantee);
  });

  test('no promise goes untried', () => {
    expect(new Set(BREAKS.map(([, guarantee]) => guarantee))).toEqual(new Set(GUARANTEES));
  });
});

test.skipIf(MISSING !== null)(
  `webs and workers killed, with servers that come and go and an odd carrier, keep every promise${unlessLeftOut(MISSING)}`,
  async () => {
    const { broken, log } = await runTrial(faultNamed('killed, with all the rest'), 8, 3, join(folder, 'several'));
    expect(broken).toEqual([]);
    expect(new Set(log.disturbances.map(({ what }) => what))).toContain('postgres stopped');
  },
  TIMEOUT_MS,
);
