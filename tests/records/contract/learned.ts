import { beforeEach, describe, expect, it } from 'vitest';
import { readFileSync } from 'node:fs';
import type { OpenRecords } from '../../../src/records/open.ts';
import { loadScenario } from '../../../src/records/scenario.ts';
import { after } from '../../../src/time/instant.ts';
import { NIGHT } from '../a-night.ts';

const DEMO = 'fixtures/demo/scenario.yaml';

/** What is kept of rooms. */
export function learned(records: () => OpenRecords): void {
  describe('what rooms have taught', () => {
    beforeEach(() => loadScenario(records(), { name: DEMO, text: readFileSync(DEMO, 'utf8') }, NIGHT));

    it('a room is found however its label is written; each property has its own', async () => {
      const note = { place: 'window', worked: true, at: NIGHT, conversationId: 7, room: 'Cabin 4', propertyId: 1 };
      await records().transaction((tx) => tx.noteOutlet(note));
      const of = (propertyId: number, room: string) => records().read((tx) => tx.outletNotes(propertyId, room));
      expect(await of(1, 'cabin-4')).toEqual([{ place: 'window', worked: true, at: NIGHT }]);
      expect(await of(2, 'Cabin 4')).toEqual([]);
      expect(await of(1, 'Cabin 5')).toEqual([]);
    });

    it('a conversation says a thing of an outlet once, with its latest time, and can take it back', async () => {
      const note = { place: 'bed', worked: false, at: NIGHT, conversationId: 7, room: '12', propertyId: 1 };
      const later = after(NIGHT, 'PT5M');
      await records().transaction(async (tx) => {
        await tx.noteOutlet(note);
        await tx.noteOutlet({ ...note, at: later });
        await tx.noteOutlet({ ...note, worked: true });
        await tx.noteOutlet({ ...note, conversationId: 8 });
      });
      const notes = () => records().read((tx) => tx.outletNotes(1, '12'));
      expect((await notes()).map(({ worked, at }) => [worked, at])).toEqual([
        [false, later],
        [true, NIGHT],
        [false, NIGHT],
      ]);
      const taken = (worked: boolean, conversationId: number) =>
        records().transaction((tx) => tx.dropOutletNote({ place: 'bed', worked, conversationId }));
      expect([await taken(false, 7), await taken(false, 7), await taken(true, 9)]).toEqual([true, false, false]);
      expect(await notes()).toHaveLength(2);
    });
  });
}
