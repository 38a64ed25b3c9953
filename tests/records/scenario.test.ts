import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openRecords } from '../../src/records/open.ts';
import type { OpenRecords } from '../../src/records/open.ts';
import { loadScenario } from '../../src/records/scenario.ts';
import type { Tables } from '../../src/records/schema.ts';
import { after } from '../../src/time/instant.ts';
import { NIGHT } from './a-night.ts';
import { freshSqlite } from './places.ts';
import type { FreshPlace } from './places.ts';

const DEMO = readFileSync('fixtures/demo/scenario.yaml', 'utf8');
const FILLED: readonly (keyof Tables)[] = [
  'properties',
  'model_sheets',
  'units',
  'rentals',
  'rental_phones',
  'setting_sheets',
  'people',
  'roster',
  'shifts',
];

describe('a scenario', () => {
  let place: FreshPlace;
  let records: OpenRecords;
  beforeEach(async () => {
    place = await freshSqlite();
    records = await openRecords(place.settings);
  });
  afterEach(async () => {
    await records.close();
    await place.remove();
  });

  const load = (text: string, now = NIGHT): Promise<void> => loadScenario(records, { name: 'demo.yaml', text }, now);
  const everything = (): Promise<unknown[][]> =>
    records.onTables(async ({ db }) => {
      const tables: unknown[][] = [];
      for (const table of FILLED) tables.push(await db.selectFrom(table).selectAll().execute());
      return tables;
    });

  it('loaded twice on one day changes nothing', async () => {
    await load(DEMO);
    const once = await everything();
    await load(DEMO, after(NIGHT, 'PT3H'));
    expect(await everything()).toEqual(once);
    expect(once.every((rows) => rows.length > 0)).toBe(true);
  });

  it('loaded on the next day moves its stays and leaves no second one', async () => {
    await load(DEMO);
    await load(DEMO, after(NIGHT, 'PT24H'));
    const stays = await records.read((tx) => tx.staysOf('+19705550101', after(NIGHT, 'PT24H')));
    expect(stays.map(({ firstDay, lastDay }) => [firstDay, lastDay])).toEqual([['2026-11-25', '2026-11-29']]);
  });

  it('that has changed brings the records up to it', async () => {
    await load(DEMO);
    await load(
      DEMO.replace("'+19705550107', '+19705550117'", "'+19705550107'")
        .replace("room: '204'", "room: '205'")
        .replace("from: '20:00', to: '08:00', position: 1", "from: '21:00', to: '08:00', position: 1"),
    );
    const [simplest, second, roster] = await records.read(
      async (tx) =>
        [await tx.staysOf('+19705550101', NIGHT), await tx.staysOf('+19705550117', NIGHT), await tx.roster()] as const,
    );
    expect(simplest.map(({ room }) => room)).toEqual(['205']);
    expect(second).toEqual([]);
    expect(roster.shifts.filter(({ position }) => position === 1).map(({ from }) => from)).toContain('21:00');
    expect(roster.shifts).toHaveLength(7);
  });

  it.each([
    [
      'a unit that is not there',
      ['unit: NB-05', 'unit: NB-55'],
      /^demo\.yaml:174:5 stays\[6\]\.unit: "NB-55" names no unit of this scenario; there are NB-01, .*Name one of them, or add it\.$/,
    ],
    [
      'an unknown field',
      ['cylinder: true', 'cylinders: true'],
      /^demo\.yaml:\d+:5 stays\[3\]\.cylinders: true is not a field here; remove it or correct its spelling\.$/,
    ],
    ['a missing field', ['    room: B7\n', ''], /^demo\.yaml:\d+:5 stays\[1\]\.room is missing; add it \(string\)\.$/],
    [
      'a number where text is wanted',
      ["room: '12'", 'room: 12'],
      /stays\[2\]\.room: 12 must be of the kind string; put it in quotes\.$/,
    ],
    [
      'a room too long for a dispatcher',
      ['room: B7', 'room: Building B, third floor, 7'],
      /room: "Building B, third floor, 7" must have at most 20 characters/,
    ],
    [
      'an address too long for a dispatcher',
      ['230 Tarnhook Road', `230 Tarnhook Road${' and on'.repeat(9)}`],
      /streetAddress: .* must have at most 60 characters/,
    ],
    [
      'a zone that is none',
      ['zone: America/Denver\n    emergency', 'zone: Denver\n    emergency'],
      /properties\[0\]\.zone: "Denver" must be an IANA time zone/,
    ],
    [
      'a unit rented out twice',
      ['unit: NB-08', 'unit: nb 07'],
      /stays\[10\]\.unit: "nb 07" is rented out twice on one day/,
    ],
    [
      'an order above what the unit gives',
      ['fromLpm: 1, toLpm: 1 ', 'fromLpm: 1, toLpm: 6 '],
      /stays\[4\]\.order\.lines\[0\]\.toLpm: 6 is more than the unit gives \(5 L\/min\)/,
    ],
    ['a tag that stands twice', ['{ tag: NB-12,', '{ tag: nb11,'], /units\[11\]\.tag: "nb11" stands twice/],
    [
      'a shift of no one',
      ['person: Odalys Fenwright', 'person: Odalys'],
      /roster\.shifts\[6\]\.person: "Odalys" names no person of this scenario/,
    ],
    ['what is not YAML', ['unit: NB-05', 'unit: [NB-05'], /^demo\.yaml:\d+:\d+ is not YAML here: /],
  ] as const)('with %s is refused where it stands, and nothing is loaded', async (_, [was, is], message) => {
    expect(DEMO).toContain(was);
    const refused = await load(DEMO.replace(was, () => is)).catch((error: unknown) => error);
    expect(refused).toMatchObject({ name: 'ScenarioError', message: expect.stringMatching(message) });
    expect((await everything()).flat()).toEqual([]);
  });

  it('with a wrong phone is refused without quoting it', async () => {
    const refused = load(DEMO.replace("'+19705550103'", "'970 555 0103'"));
    await expect(refused).rejects.toThrow(/^demo\.yaml:119:14 stays\[2\]\.phones\[0\] must be a phone in E\.164 form/);
    await expect(refused).rejects.not.toThrow(/0103/);
  });
});
