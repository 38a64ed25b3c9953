import { copyFile, mkdtemp, rm } from 'node:fs/promises';
import { readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { OutboundText } from '../../src/desk/carrier.ts';
import { openRecords } from '../../src/records/open.ts';
import { loadScenario } from '../../src/records/scenario.ts';
import { instantOf } from '../../src/time/instant.ts';
import type { Instant } from '../../src/time/instant.ts';
import { Dead, Life, mortalDesk } from './mortal.ts';
import type { MortalDesk } from './mortal.ts';
import { BRAM, GUEST, NIGHT } from './night-desk.ts';
import { pocketCarrier } from './pocket-carrier.ts';
import type { PocketCarrier } from './pocket-carrier.ts';

/** Records with the demo in them, made once and copied for each death. */
let folder: string;
let original: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'nightbell-killed-'));
  original = join(folder, 'original.sqlite');
  const records = await openRecords({ sqliteFile: original });
  const scenario = { name: 'demo', text: readFileSync('fixtures/demo/scenario.yaml', 'utf8') };
  await loadScenario(records, scenario, NIGHT);
  await records.close();
});

afterAll(() => rm(folder, { recursive: true }));
let lives = 0;

interface Night {
  readonly startsAt: Instant;
  /** What happens. Said again from its start after a death: the carrier repeats what was not answered. */
  readonly events: (desk: MortalDesk) => Promise<void>;
  /** How long the desk goes on after it was started again. */
  readonly thenPass: string;
}

interface Lived {
  readonly carrier: PocketCarrier;
  readonly life: Life;
  /** Texts that were sent after all events were over. */
  readonly sentAfter: readonly OutboundText[];
}

/** Lives a night, dies after so many steps, is started again at once and lives on. */
async function live(night: Night, steps = Infinity): Promise<Lived> {
  lives += 1;
  const sqliteFile = join(folder, `life-${lives}.sqlite`);
  await copyFile(original, sqliteFile);
  const carrier = pocketCarrier();
  const life = new Life(steps);
  const first = await openRecords({ sqliteFile });
  let diedAt = night.startsAt;
  try {
    const desk = await mortalDesk({ records: first, carrier, startsAt: night.startsAt, life });
    try {
      await night.events(desk);
    } finally {
      diedAt = desk.now();
    }
  } catch (error) {
    if (!(error instanceof Dead)) throw error;
  } finally {
    await first.close();
  }
  const records = await openRecords({ sqliteFile });
  try {
    const desk = await mortalDesk({ records, carrier, startsAt: diedAt, life: new Life() });
    await night.events(desk);
    const before = carrier.sent.length;
    await desk.pass(night.thenPass);
    return { carrier, life, sentAfter: carrier.sent.slice(before) };
  } finally {
    await records.close();
  }
}

const inbound = (id: string, from: string, text: string) => ({ id, from, to: '+19705550100', text, media: [] });

/** How often each text was taken by the carrier, by reader and words. */
function timesTaken(texts: readonly OutboundText[]): Map<string, number> {
  const times = new Map<string, number>();
  for (const { to, body } of texts) times.set(`${to}: ${body}`, (times.get(`${to}: ${body}`) ?? 0) + 1);
  return times;
}

/** Deaths at every step of a night, so that none between two writes is left out. */
async function everyDeath(night: Night, look: (lived: Lived, steps: number) => void): Promise<number> {
  const { life } = await live(night);
  for (let steps = 0; steps < life.steps; steps += 1) {
    look(await live(night, steps), steps);
  }
  return life.steps;
}

/** Some two hundred lives. */
const TIMEOUT_MS = 180_000;

describe('killed between any two writes and started again', { timeout: TIMEOUT_MS }, () => {
  test('a danger callout reaches a person every time, and no text of it is doubled but by the one death', async () => {
    const night: Night = {
      startsAt: NIGHT,
      async events(desk) {
        await desk.receive(inbound('SM1', GUEST, 'my husband has blue lips'));
        await desk.doDue();
      },
      // The row in hand stays leased to the dead for a minute: another process might be doing it.
      thenPass: 'PT2M',
    };
    const whole = timesTaken((await live(night)).carrier.sent);
    const steps = await everyDeath(night, ({ carrier }, died) => {
      const briefs = carrier.textsTo(BRAM).filter((text) => text.includes('DANGER'));
      expect(briefs.length, `died after step ${died}`).toBeGreaterThanOrEqual(1);
      expect(
        carrier.calls.some((call) => call.to === BRAM),
        `died after step ${died}`,
      ).toBe(true);
      for (const [text, times] of timesTaken(carrier.sent)) {
        expect(times, `died after step ${died}: ${text}`).toBeLessThanOrEqual((whole.get(text) ?? 0) + 1);
      }
    });
    expect(steps).toBeGreaterThan(8);
  });

  test('a callout that was taken stays taken, and the guest hears so', async () => {
    const night: Night = {
      startsAt: NIGHT,
      async events(desk) {
        await desk.receive(inbound('SM1', GUEST, 'my husband has blue lips'));
        await desk.pass('PT1M');
        await desk.receive(inbound('SM2', BRAM, 'TAKE 1'));
      },
      thenPass: 'PT4M',
    };
    await everyDeath(night, ({ carrier, sentAfter }, died) => {
      const toGuest = carrier.textsTo(GUEST).filter((text) => text.includes('Bram has your case'));
      expect(toGuest.length, `died after step ${died}`).toBeGreaterThanOrEqual(1);
      const asked = sentAfter.filter((text) => text.body.includes('Reply TAKE'));
      expect(asked, `died after step ${died}`).toEqual([]);
    });
  });

  test('what nobody asked for is never sent twice, and at most one text of it is lost', async () => {
    const night: Night = {
      startsAt: instantOf('2026-11-25T13:59:50-07:00'),
      events: (desk) => desk.pass('PT20S'),
      thenPass: 'PT10M',
    };
    const whole = timesTaken((await live(night)).carrier.sent);
    expect(whole.size).toBeGreaterThan(5);
    await everyDeath(night, ({ carrier }, died) => {
      const taken = timesTaken(carrier.sent);
      for (const [text, times] of taken) {
        expect(times, `died after step ${died}: ${text}`).toBeLessThanOrEqual(whole.get(text) ?? 0);
      }
      expect(taken.size, `died after step ${died}`).toBeGreaterThanOrEqual(whole.size - 1);
    });
  });
});
