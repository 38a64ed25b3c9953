import type { Desk } from '../../src/desk/desk.ts';
import { openDesk } from '../../src/desk/desk.ts';
import type { Inbound } from '../../src/desk/carrier.ts';
import type { Work } from '../../src/desk/records.ts';
import type { OpenRecords } from '../../src/records/open.ts';
import { after } from '../../src/time/instant.ts';
import type { Instant } from '../../src/time/instant.ts';
import { loadHearing } from '../../src/words/load.ts';
import { doAllDue } from '../../src/work/do-due.ts';
import { BOOK } from './night-desk.ts';
import type { PocketCarrier } from './pocket-carrier.ts';

const hear = loadHearing();

/** The process is gone: nothing it was about to do happens any more. */
export class Dead extends Error {}

/**
 * A life of so many steps. A step is a commit, or a text or call that the carrier takes; after the last one everything that
 * is begun fails, as if the process had been killed between two of them.
 */
export class Life {
  steps = 0;
  readonly #most: number;

  constructor(most = Infinity) {
    this.#most = most;
  }

  async step<T>(take: () => Promise<T>): Promise<T> {
    if (this.steps >= this.#most) throw new Dead(`dead after ${this.#most} steps`);
    this.steps += 1;
    return take();
  }

  get over(): boolean {
    return this.steps >= this.#most;
  }
}

function mortalRecords(records: OpenRecords, life: Life): OpenRecords {
  return {
    ...records,
    transaction: (use) => life.step(() => records.transaction(use)),
    shared: (use) => life.step(() => records.shared(use)),
    claimWork: (now, until) => life.step(() => records.claimWork(now, until)),
    finishWork: (id, result, at) => life.step(() => records.finishWork(id, result, at)),
    postponeWork: (id, at) => life.step(() => records.postponeWork(id, at)),
    giveBackWork: (id, at) => life.step(() => records.giveBackWork(id, at)),
    moveWork: (id, at) => life.step(() => records.moveWork(id, at)),
  };
}

function mortalCarrier(carrier: PocketCarrier, life: Life): PocketCarrier {
  return {
    ...carrier,
    sendText: (text) => life.step(() => carrier.sendText(text)),
    placeCall: (call) => life.step(() => carrier.placeCall(call)),
  };
}

/** A desk that may die, on records and with a carrier that outlive it. */
export interface MortalDesk {
  readonly receive: (inbound: Inbound) => Promise<unknown>;
  /** Does what is due by now. */
  readonly doDue: () => Promise<void>;
  /** Lets time pass, stopping at each instant at which something falls due. */
  readonly pass: (duration: string) => Promise<void>;
  readonly now: () => Instant;
}

export interface MortalParts {
  readonly records: OpenRecords;
  readonly carrier: PocketCarrier;
  readonly startsAt: Instant;
  readonly life: Life;
}

export async function mortalDesk({ records, carrier, startsAt, life }: MortalParts): Promise<MortalDesk> {
  let clock = startsAt;
  const now = (): Instant => clock;
  const mortal = mortalRecords(records, life);
  const desk: Desk = await openDesk({
    records: mortal,
    carrier: mortalCarrier(carrier, life),
    hear,
    book: BOOK,
    outfit: {
      name: 'Quillmere Basin Oxygen',
      directNumber: '(970) 555-0190',
      emergencyNumber: '911',
      zone: 'America/Denver',
    },
    alarmPhones: [],
    now,
    note: () => {},
    wake: () => {},
  });
  const worker = { table: mortal, doWork: (work: Work) => desk.doWork(work), now, note: () => {} };
  return {
    receive: (inbound) => desk.receive(inbound),
    doDue: async () => void (await doAllDue(worker)),
    async pass(duration) {
      const until = after(clock, duration);
      for (let next = await records.nextDueAt(); next !== null && next <= until; next = await records.nextDueAt()) {
        if (next > clock) clock = next;
        await doAllDue(worker);
      }
      clock = until;
    },
    now,
  };
}
