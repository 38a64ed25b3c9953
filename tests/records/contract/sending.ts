import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { OpenRecords } from '../../../src/records/open.ts';
import { loadScenario } from '../../../src/records/scenario.ts';
import { after } from '../../../src/time/instant.ts';
import { GUEST, NIGHT, OTHER_GUEST, begun } from '../a-night.ts';

const DEMO = 'fixtures/demo/scenario.yaml';

/** What sending, planning, the morning summary and drills ask of the records. */
export function sending(records: () => OpenRecords): void {
  const load = () => loadScenario(records(), { name: DEMO, text: readFileSync(DEMO, 'utf8') }, NIGHT);

  it('the state of a text goes on and never back, whatever order reports come in', async () => {
    const note = (state: 'waiting' | 'handed-on' | 'arrived' | 'lost', rank: number) =>
      records().transaction((tx) => tx.noteTextState('work-1', state, rank, NIGHT));
    expect([
      await note('handed-on', 1),
      await note('waiting', 0),
      await note('handed-on', 1),
      await note('lost', 2),
      await note('arrived', 2),
    ]).toEqual([true, false, false, true, false]);
    expect(await records().transaction((tx) => tx.noteTextState('reply-1', 'waiting', 0, NIGHT))).toBe(true);
  });

  it('stays around an instant come with their phones', async () => {
    await load();
    const around = await records().read((tx) => tx.staysAround(NIGHT));
    const phones = new Map(around.map(({ stay, phones }) => [stay.guestName, phones]));
    expect(phones.get('Perrin Aldwick')).toEqual(['+19705550101']);
    expect(phones.get('Lowen Marchbrook')).toEqual(['+19705550107', '+19705550117']);
    expect(phones.has('Linnea Ostwick')).toBe(false);
    const rentalId = around.find(({ stay }) => stay.guestName === 'Lowen Marchbrook')?.stay.rentalId ?? 0;
    expect(await records().read((tx) => tx.phonesOf(rentalId))).toEqual(['+19705550107', '+19705550117']);
  });

  it('a night counts what was opened in it, its beginning in and its end out', async () => {
    await records().transaction((tx) => begun(tx, GUEST, { openedAt: NIGHT }));
    await records().transaction((tx) => begun(tx, OTHER_GUEST, { openedAt: after(NIGHT, 'PT1H') }));
    const count = await records().read((tx) => tx.countNight(NIGHT, after(NIGHT, 'PT1H')));
    expect([count.conversations.length, count.callouts.length]).toEqual([1, 0]);
  });

  it('the desk’s last sign of life is the one written last', async () => {
    expect(await records().read((tx) => tx.lastAlive())).toBeNull();
    await records().transaction((tx) => tx.noteAlive(NIGHT));
    await records().transaction((tx) => tx.noteAlive(after(NIGHT, 'PT1M')));
    expect(await records().read((tx) => tx.lastAlive())).toBe(after(NIGHT, 'PT1M'));
  });

  it('a clock that is set back is noted once by all who have it, and the next time again', async () => {
    const note = (from: string, to: string, known: number) =>
      records().transaction((tx) => tx.noteSetBack({ from: after(NIGHT, from), to: after(NIGHT, to) }, known));
    expect(await note('PT0S', '-PT1H', 0)).toEqual({ number: 1, isNew: true });
    expect(await note('PT4S', '-PT59M55S', 0)).toEqual({ number: 1, isNew: false });
    // Set forward again, and back once more, within seconds.
    expect(await note('PT6S', '-PT59M54S', 1)).toEqual({ number: 2, isNew: true });
    // One that never saw the others meets a time of its own.
    expect(await note('-PT59M', '-PT2H', 0)).toEqual({ number: 3, isNew: true });
    expect(await records().read((tx) => tx.setBacksNoted())).toBe(3);
  });

  describe('a drill', () => {
    it('keeps each person’s first answer', async () => {
      await load();
      const { people } = await records().read((tx) => tx.roster());
      const [bram = 0, ines = 0] = people.map((person) => person.id);
      const { id } = await records().transaction((tx) => tx.beginDrill([bram], NIGHT));
      const answer = (personId: number, at = NIGHT) => records().transaction((tx) => tx.answerDrill(id, personId, at));
      expect([await answer(bram), await answer(bram, after(NIGHT, 'PT1M')), await answer(ines)]).toEqual([
        true,
        false,
        false,
      ]);
      expect(await records().read((tx) => tx.drill(id))).toEqual({
        id,
        begunAt: NIGHT,
        calls: [{ personId: bram, answeredAt: NIGHT }],
      });
      expect(await records().read((tx) => tx.latestDrill())).toMatchObject({ id });
      expect(await records().read((tx) => tx.drill(4711))).toBeNull();
    });
  });
}
