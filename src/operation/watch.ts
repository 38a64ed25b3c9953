import { Counter, Gauge, Histogram, Registry, collectDefaultMetrics } from 'prom-client';
import { msOf } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import type { Standing } from './standing.ts';

/** What became of a text: answered; answered with silence, as rules ask; or given the safe reply, since handling failed. */
export type TextOutcome = 'answered' | 'silent' | 'failed';
/** What became of a row of work: done; to be tried again; put off unbegun; or it threw. */
export type WorkOutcome = 'done' | 'again' | 'taken over' | 'moved' | 'failed';

/** Counts what this process does and how the desk stands, for a scraper that reads the Prometheus text format. */
export interface Watch {
  text(outcome: TextOutcome, seconds: number): void;
  work(kind: string, outcome: WorkOutcome): void;
  /** @returns the media type, and the metrics as text */
  metrics(): Promise<{ readonly type: string; readonly text: string }>;
}

export interface WatchParts {
  readonly standing: () => Promise<Standing>;
  /** Null where no Redis is used. */
  readonly redisReady: () => boolean | null;
  readonly now: () => Instant;
}

const URGENCIES = ['danger', 'tonight', 'morning'] as const;
/** Seconds; the carrier gives up after 15. */
const ANSWER_BUCKETS = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 15];

export function openWatch({ standing, redisReady, now }: WatchParts): Watch {
  const registry = new Registry();
  const registers = [registry];
  collectDefaultMetrics({ register: registry });
  const texts = new Counter({
    name: 'nightbell_texts_total',
    help: 'Texts by what became of them: answered, silent (as rules ask), failed (the guest got the safe reply).',
    labelNames: ['outcome'],
    registers,
  });
  const seconds = new Histogram({
    name: 'nightbell_text_seconds',
    help: 'Seconds from a text to its answer, which is on disk by then.',
    buckets: ANSWER_BUCKETS,
    registers,
  });
  const work = new Counter({
    name: 'nightbell_work_total',
    help: 'Rows of work begun by this process, by kind and by what became of them.',
    labelNames: ['kind', 'outcome'],
    registers,
  });
  const due = new Gauge({
    name: 'nightbell_work_due',
    help: 'Rows of work that are due and not done. Of all processes: take the largest, not the sum.',
    labelNames: ['danger'],
    registers,
  });
  const lag = new Gauge({
    name: 'nightbell_work_lag_seconds',
    help: 'For how long the oldest of them has been due.',
    labelNames: ['danger'],
    registers,
  });
  const untaken = new Gauge({
    name: 'nightbell_callouts_untaken',
    help: 'Callouts that ring and that nobody has taken. Of all processes: take the largest, not the sum.',
    labelNames: ['urgency'],
    registers,
  });
  const waiting = new Gauge({
    name: 'nightbell_callout_untaken_seconds',
    help: 'For how long the oldest of them has been open.',
    labelNames: ['urgency'],
    registers,
  });
  const redis = new Gauge({
    name: 'nightbell_redis_ready',
    help: '1 while Redis takes work, 0 while work is done straight from the table; absent where no Redis is used.',
    registers,
  });
  const secondsSince = (since: Instant): number => Math.max(0, msOf(now()) - msOf(since)) / 1000;

  async function look(): Promise<void> {
    const stands = await standing();
    for (const danger of [true, false]) {
      const rows = stands.due.find((each) => each.danger === danger);
      due.set({ danger: String(danger) }, rows?.rows ?? 0);
      lag.set({ danger: String(danger) }, rows === undefined ? 0 : secondsSince(rows.since));
    }
    for (const urgency of URGENCIES) {
      const callouts = stands.untaken.find((each) => each.urgency === urgency);
      untaken.set({ urgency }, callouts?.callouts ?? 0);
      waiting.set({ urgency }, callouts === undefined ? 0 : secondsSince(callouts.since));
    }
    const ready = redisReady();
    if (ready === null) registry.removeSingleMetric('nightbell_redis_ready');
    else redis.set(ready ? 1 : 0);
  }

  return {
    text(outcome, took) {
      texts.inc({ outcome });
      seconds.observe(took);
    },
    work: (kind, outcome) => work.inc({ kind, outcome }),
    async metrics() {
      await look();
      return { type: registry.contentType, text: await registry.metrics() };
    },
  };
}
