import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { loopbackCarrier } from '../carrier/loopback.ts';
import type { Loopback } from '../carrier/loopback.ts';
import { openDesk } from '../desk/desk.ts';
import type { Desk } from '../desk/desk.ts';
import type { FlowBook } from '../flow/book.ts';
import { openRecords } from '../records/open.ts';
import type { OpenRecords } from '../records/open.ts';
import { loadScenario } from '../records/scenario.ts';
import type { Work } from '../desk/records.ts';
import { after } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import type { Hear } from '../words/heard.ts';
import { doAllDue } from '../work/do-due.ts';

const SCENARIO = join(import.meta.dirname, '../../fixtures/demo/scenario.yaml');

/** The real desk on records of its own, with a carrier that goes nowhere and a clock that is moved by hand. */
export interface DemoDesk {
  readonly desk: Desk;
  readonly records: OpenRecords;
  readonly carrier: Loopback;
  /** A folder of its own, gone when it closes. */
  readonly folder: string;
  now(): Instant;
  /** Does what is due by now. */
  doDue(): Promise<void>;
  /** Lets time pass, stopping at each instant at which something falls due. */
  pass(duration: string): Promise<void>;
  close(): Promise<void>;
}

export interface DemoParts {
  readonly hear: Hear;
  readonly book: FlowBook;
  readonly startsAt: Instant;
  /** Tells the records what there is, before the desk opens; without it, the demo's scenario. */
  readonly fill?: (records: OpenRecords, now: Instant) => Promise<void>;
}

async function loadDemo(records: OpenRecords, now: Instant): Promise<void> {
  await loadScenario(records, { name: 'fixtures/demo/scenario.yaml', text: readFileSync(SCENARIO, 'utf8') }, now);
}

/** Opens the demo at a time. Its records are in a temporary folder and go when it closes. */
export async function openDemoDesk(parts: DemoParts): Promise<DemoDesk> {
  let clock = parts.startsAt;
  const now = (): Instant => clock;
  const folder = mkdtempSync(join(tmpdir(), 'nightbell-'));
  const records = await openRecords({ sqliteFile: join(folder, 'demo.sqlite') });
  await (parts.fill ?? loadDemo)(records, now());
  const log = pino({ level: 'warn' }, pino.destination(2));
  const carrier = loopbackCarrier(log);
  const desk = await openDesk({
    records,
    carrier,
    hear: parts.hear,
    book: parts.book,
    outfit: {
      name: 'Quillmere Basin Oxygen',
      directNumber: '(970) 555-0190',
      emergencyNumber: '911',
      zone: 'America/Denver',
    },
    alarmPhones: [],
    now,
    note: (event, details) => log.warn(details, event),
    wake: () => {},
  });
  const worker = {
    table: records,
    doWork: (work: Work) => desk.doWork(work),
    now,
    note: (event: string, details: object) => log.error(details, event),
  };
  return {
    desk,
    records,
    carrier,
    folder,
    now,
    async doDue() {
      await doAllDue(worker);
    },
    async pass(duration) {
      const until = after(clock, duration);
      for (let next = await records.nextDueAt(); next !== null && next <= until; next = await records.nextDueAt()) {
        if (next > clock) clock = next;
        if ((await doAllDue(worker)) === 0) break;
      }
      clock = until;
    },
    async close() {
      await records.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
