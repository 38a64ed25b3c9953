import { readFileSync } from 'node:fs';
import { Client } from 'pg';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { openDesk } from '../../src/desk/desk.ts';
import { openRecords } from '../../src/records/open.ts';
import { loadScenario } from '../../src/records/scenario.ts';
import { loadHearing } from '../../src/words/load.ts';
import { BOOK, NIGHT } from '../desk/night-desk.ts';
import { pocketCarrier } from '../desk/pocket-carrier.ts';
import { POSTGRES_MISSING, POSTGRES_TITLE, postgresDatabase } from './places.ts';

const SCENARIO = 'fixtures/demo/scenario.yaml';

/** What is asked of the server from now on, statement by statement: each waits for its answer, so each is a round trip. */
function statementsAsked(): { readonly sofar: () => string[]; readonly anew: () => void } {
  const query = vi.spyOn(Client.prototype, 'query');
  onTestFinished(() => query.mockRestore());
  return {
    sofar: () => query.mock.calls.map(([what]) => (typeof what === 'string' ? what : (what as { text: string }).text)),
    anew: () => void query.mockClear(),
  };
}

describe.skipIf(POSTGRES_MISSING !== null)(`round trips of a text ${POSTGRES_TITLE}`, () => {
  const fresh = postgresDatabase();

  it('are six or fewer in one transaction, for openings, answers and strangers, alone and together', async () => {
    const place = await fresh();
    const records = await openRecords(place.settings);
    onTestFinished(async () => {
      await records.close();
      await place.remove();
    });
    await loadScenario(records, { name: SCENARIO, text: readFileSync(SCENARIO, 'utf8') }, NIGHT);
    const desk = await openDesk({
      records,
      carrier: pocketCarrier({ reportsDelivery: true }),
      hear: loadHearing(),
      book: BOOK,
      outfit: { name: 'Q', directNumber: '(970) 555-0190', emergencyNumber: '911', zone: 'America/Denver' },
      alarmPhones: [],
      now: () => NIGHT,
      note: (event) => expect.fail(event),
      wake: () => {},
    });
    const asked = statementsAsked();
    let texts = 0;
    const text = (from: string, words: string) => {
      texts += 1;
      return desk.receive({ id: `SM${texts}`, from, to: '+19705550100', text: words, media: [] });
    };
    const guests = ['+19705550101', '+19705550103', '+19705550177'];
    for (const guest of guests) {
      for (const words of ["it won't stop beeping", 'one long tone', 'thank you']) {
        asked.anew();
        expect((await text(guest, words)).text).toEqual(expect.any(String));
        const statements = asked.sofar();
        expect(statements.length, `${words}:\n${statements.join('\n')}`).toBeLessThanOrEqual(6);
        expect(statements.filter((statement) => statement === 'begin')).toHaveLength(1);
      }
    }
    for (const words of ['the bottle does not bubble', 'yes']) {
      asked.anew();
      const many = Array.from({ length: 16 }, (_, index) => `+197055503${10 + index}`);
      await Promise.all(many.map((guest) => text(guest, words)));
      expect(asked.sofar().length / many.length).toBeLessThanOrEqual(6);
    }
  });
});
