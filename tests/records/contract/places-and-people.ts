import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import type { OpenRecords } from '../../../src/records/open.ts';
import { loadScenario } from '../../../src/records/scenario.ts';
import { instantOf } from '../../../src/time/instant.ts';
import { NIGHT } from '../a-night.ts';

const DEMO = 'fixtures/demo/scenario.yaml';

/** The demo, loaded on Wednesday 2026-11-25 at 2:10 in Denver. */
export function places(records: () => OpenRecords): void {
  describe('with the demo scenario', () => {
    beforeEach(() => loadScenario(records(), { name: DEMO, text: readFileSync(DEMO, 'utf8') }, NIGHT));

    const roomsOf = (phone: string, at = NIGHT) =>
      records().read(async (tx) => (await tx.staysOf(phone, at)).map((stay) => stay.room));

    it('the simplest stay is one adult with an order and all that a dispatcher asks', async () => {
      const [stay, ...others] = await records().read((tx) => tx.staysOf('+19705550101', NIGHT));
      expect(others).toEqual([]);
      expect(stay).toMatchObject({
        property: { streetAddress: '14 Marlstone Way, Quillmere Basin', emergencyNumber: '911', elevationM: 2900 },
        room: '204',
        unit: { tag: 'NB-01', model: { maximumFlowRateLpm: 10 } },
        firstDay: '2026-11-24',
        lastDay: '2026-11-28',
        people: 1,
        fragile: false,
        ageGroup: 'adult',
        order: { lines: [{ people: 1, when: 'any', fromLpm: 2, toLpm: 2 }], mask: false, keepsCarbonDioxide: false },
        cylinder: false,
        oxygenAtHome: false,
      });
      expect(await records().read((tx) => tx.stay(stay?.rentalId ?? 0))).toEqual(stay);
      expect(await records().read((tx) => tx.property(stay?.property.id ?? 0))).toEqual(stay?.property);
    });

    it('a stay lasts until midnight of its last day where the property is', async () => {
      expect(await roomsOf('+19705550101', instantOf('2026-11-28T23:59:00-07:00'))).toEqual(['204']);
      expect(await roomsOf('+19705550101', instantOf('2026-11-29T00:00:00-07:00'))).toEqual([]);
      expect(await roomsOf('+19705550101', instantOf('2026-11-23T23:59:00-07:00'))).toEqual([]);
      expect(await roomsOf('+19705550101', instantOf('2026-11-24T00:00:00-07:00'))).toEqual(['204']);
    });

    it('both phones of one rental find it, an unknown phone and one whose stay is over find none', async () => {
      expect(await roomsOf('+19705550107')).toEqual(['A2']);
      expect(await roomsOf('+19705550117')).toEqual(['A2']);
      expect(await roomsOf('+19705550199')).toEqual([]);
      expect(await roomsOf('+19705550111')).toEqual([]);
      expect(await roomsOf('+19705550110')).toEqual(['301', '302']);
    });

    it.each([
      [{ tag: 'NB-07' }, ['301']],
      [{ tag: 'nb 07' }, ['301']],
      [{ tag: 'nb–07' }, ['301']],
      [{ room: 'b7' }, ['B7']],
      [{ room: 'cabin  4' }, ['Cabin 4']],
      [{ tag: 'NB-07', room: '301' }, ['301']],
      [{ tag: 'NB-07', room: '302' }, []],
      [{ tag: 'NB-12' }, []],
      [{ tag: 'NB-99' }, []],
      [{}, []],
    ])('a place written %j finds %j', async (place, rooms) => {
      const found = await records().read((tx) => tx.staysAt(place, NIGHT));
      expect(found.map((stay) => stay.room)).toEqual(rooms);
    });

    it('what makes a guest special is kept', async () => {
      const [copd] = await records().read((tx) => tx.staysOf('+19705550106', NIGHT));
      const [child] = await records().read((tx) => tx.staysOf('+19705550105', NIGHT));
      const [frail] = await records().read((tx) => tx.staysOf('+19705550104', NIGHT));
      const [sheetOnly] = await records().read((tx) => tx.staysOf('+19705550103', NIGHT));
      expect(copd).toMatchObject({ order: { keepsCarbonDioxide: true }, unit: { model: { maximumFlowRateLpm: 5 } } });
      expect(child?.ageGroup).toBe('child');
      expect(frail).toMatchObject({ fragile: true, cylinder: true });
      expect(sheetOnly?.order).toBeNull();
    });

    it('the signed sheet and the roster come back whole', async () => {
      const [sheet, roster] = await records().read(async (tx) => [await tx.settingSheet(), await tx.roster()] as const);
      expect(sheet).toMatchObject({
        signedOn: '2026-10-01',
        lines: [{ people: 1, when: 'night', toLpm: 2.5 }, {}, {}, {}],
      });
      expect(roster.zone).toBe('America/Denver');
      expect(roster.people.map(({ role }) => role)).toEqual(['technician', 'technician', 'owner']);
      expect(roster.shifts).toContainEqual({
        personId: roster.people[0]?.id,
        days: [1, 2, 3, 4],
        from: '20:00',
        to: '08:00',
        position: 1,
      });
      expect(await records().read((tx) => tx.personByPhone('+19705550192'))).toEqual(roster.people[2]);
      expect(await records().read((tx) => tx.personByPhone('+19705550101'))).toBeNull();
    });
  });

  it('without a scenario there is no sheet, and the roster says what to do', async () => {
    expect(await records().read((tx) => tx.settingSheet())).toBeNull();
    await expect(records().read((tx) => tx.roster())).rejects.toThrow(/Load a scenario/);
  });
}
