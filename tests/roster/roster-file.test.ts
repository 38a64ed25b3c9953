import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { readRoster } from '../../src/commands/roster-file/read-roster.ts';
import { openRecords } from '../../src/records/open.ts';
import type { OpenRecords } from '../../src/records/open.ts';
import { enterRoster, ensureOwner } from '../../src/records/roster-entry.ts';
import { loadScenario } from '../../src/records/scenario.ts';
import { whoIsOnCall } from '../../src/roster/on-call.ts';
import { instantOf } from '../../src/time/instant.ts';
import { ownFolder } from '../carrier/desk-on-a-port.ts';

const YAML = `zone: America/Denver
people:
  - { name: Anna Fell, phone: '+19705550121' }
  - { name: Ben Oake, phone: (970) 555-0122 }
  - { name: Oda Wren, phone: '+19705550123', role: owner }
shifts:
  - { person: Anna Fell, days: [mon, tue, 3], from: '20:00', to: '08:00' }
  - { person: Ben Oake, days: [wed], from: '08:00', to: '20:00', position: 2 }
holidays:
  - { day: 2026-12-25, name: Christmas, shifts: [{ person: Ben Oake, from: '08:00', to: '08:00' }] }
`;

const CSV = `person,phone,role,days,from,to,position,zone
Anna Fell,+19705550121,technician,mon-wed,20:00,08:00,1,America/Denver
Ben Oake,(970) 555-0122,,wed,08:00,20:00,2,
Ben Oake,,,2026-12-25,08:00,08:00,1,
Oda Wren,+19705550123,owner,,,,,
`;

/** Without lines, which differ between the two. */
function said(name: string, text: string): unknown {
  return JSON.parse(JSON.stringify(readRoster(name, text)).replaceAll(/,?"(line|column)":\d+/g, ''));
}

test('a table and YAML say the same roster', () => {
  const draft = said('roster.yaml', YAML) as { holidays: { name: string }[] };
  expect(draft).toMatchObject({
    zone: 'America/Denver',
    people: [{ phone: '+19705550121' }, { phone: '+19705550122', role: 'technician' }, { role: 'owner' }],
    shifts: [
      { person: 'Anna Fell', days: [1, 2, 3], position: 1 },
      { person: 'Ben Oake', days: [3], position: 2 },
    ],
    holidays: [{ day: '2026-12-25', shifts: [{ person: 'Ben Oake' }] }],
  });
  const table = said('roster.csv', CSV) as typeof draft;
  expect({ ...table, holidays: table.holidays.map((each) => ({ ...each, name: 'Christmas' })) }).toEqual(draft);
});

test('a table with semicolons, as some spreadsheets write it, is read as well', () => {
  expect(said('roster.csv', CSV.replaceAll(',', ';'))).toEqual(said('roster.csv', CSV));
});

test.for([
  ['a bad zone', 'America/Denver', 'America/Denvr', /roster.yaml:1:7: zone.*America\/Denver/],
  ['a missing phone', ", phone: '+19705550121'", '', /roster.yaml:3:5: Anna Fell has no phone/],
  ['a phone that is none', "'+19705550121'", "'12'", /roster.yaml:3:\d+: .*phone number/],
  [
    'an unknown person',
    'person: Ben Oake, days',
    'person: Bem Oake, days',
    /roster.yaml:8:5: nobody is called "Bem Oake"/,
  ],
  [
    'an overlap',
    "to: '20:00', position: 2",
    "to: '20:01', position: 1",
    /roster.yaml:8:5: Ben Oake overlaps with Anna Fell \(line 7\)/,
  ],
  ['an overlap over the end of the week', "days: [wed], from: '08:00'", "days: [sun, mon], from: '19:00'", null],
  ['an hour that is none', "from: '20:00'", "from: '25:00'", /roster.yaml:7:\d+: .*HH:MM/],
  ['a day that is none', '2026-12-25', '2026-02-30', /roster.yaml:10:\d+: .*date/],
  ['a weekday that is none', 'mon, tue', 'mun, tue', /roster.yaml:7:\d+: .*weekday/],
  ['a word that is none', 'zone:', 'zones:', /roster.yaml:1:1: .*"zones"/],
  ['two of one name', 'Ben Oake, phone', 'Anna Fell, phone', /roster.yaml:4:5: Anna Fell stands in line 3 already/],
  ['two of one phone', '(970) 555-0122', '(970) 555-0121', /roster.yaml:4:5: Ben Oake has the phone of Anna Fell/],
] as const)('YAML with %s', ([, from, to, complaint]) => {
  const read = () => readRoster('roster.yaml', YAML.replace(from, to));
  if (complaint === null) expect(read).not.toThrow();
  else expect(read).toThrow(complaint);
});

test('the last shift of Sunday and the first of Monday at one position overlap, where they do', () => {
  const wrapped = YAML.replace(
    "days: [wed], from: '08:00', to: '20:00', position: 2",
    "days: [sun], from: '19:00', to: '07:00'",
  );
  expect(() =>
    readRoster('roster.yaml', wrapped.replace("[mon, tue, 3], from: '20:00'", "[mon], from: '06:00'")),
  ).toThrow(/overlaps/);
  expect(() => readRoster('roster.yaml', wrapped)).not.toThrow();
});

test.for([
  ['a bad zone', 'America/Denver', 'Denver', /roster.csv:2:1: zone/],
  ['no zone', ',America/Denver', ',', /zone must stand in a row/],
  ['a missing phone', '+19705550121', '', /roster.csv:2:1: Anna Fell has no phone/],
  ['a phone that is none', '(970) 555-0122', '555', /roster.csv:3:1: phone must be a phone number/],
  ['an overlap', '08:00,20:00,2', '07:00,20:00,1', /roster.csv:3:1: Ben Oake overlaps with Anna Fell \(line 2\)/],
  ['a weekday that is none', 'mon-wed', 'mon-wod', /roster.csv:2:1: days/],
  ['half a shift', 'wed,08:00,20:00', 'wed,08:00,', /roster.csv:3:1: from and to/],
  ['an unknown column', 'position', 'rank', /roster.csv:1:1: "rank" is not a column/],
  ['a row too short', 'Oda Wren,+19705550123,owner,,,,,', 'Oda Wren,+19705550123', /roster.csv:5:1: .*row/],
] as const)('a table with %s is refused with its line', ([, from, to, complaint]) => {
  expect(() => readRoster('roster.csv', CSV.replace(from, to))).toThrow(complaint);
});

async function demoRecords(): Promise<OpenRecords> {
  const records = await openRecords({ sqliteFile: join(await ownFolder(), 'nightbell.sqlite') });
  onTestFinished(() => records.close());
  return records;
}

const AT = instantOf('2026-11-25T22:00:00-07:00');
const onCall = async (records: OpenRecords) =>
  whoIsOnCall(await records.read((tx) => tx.roster()), AT).map((person) => person.name);

test('a roster that is taken over replaces the one before; who left is no longer tried nor listened to', async () => {
  const records = await demoRecords();
  const name = 'fixtures/demo/scenario.yaml';
  await loadScenario(records, { name, text: readFileSync(name, 'utf8') }, AT);
  await enterRoster(records, readRoster('roster.yaml', YAML));
  expect(await onCall(records)).toEqual(['Anna Fell', 'Oda Wren']);
  expect(await records.read((tx) => tx.personByPhone('+19705550190'))).toBeNull();
  expect(await records.read((tx) => tx.personByPhone('+19705550122'))).toMatchObject({ name: 'Ben Oake' });
  await loadScenario(records, { name, text: readFileSync(name, 'utf8') }, AT);
  expect(await records.read((tx) => tx.personByPhone('+19705550190'))).toMatchObject({ name: 'Bram Tiddlecote' });
});

test('a roster without an owner leaves the owner where they are', async () => {
  const records = await demoRecords();
  await ensureOwner(records, { ownerPhone: '+19705550199', outfitZone: 'America/Denver' });
  await enterRoster(records, readRoster('roster.yaml', YAML.replace(/.*Oda Wren.*\n/, '')));
  expect(await onCall(records)).toEqual(['Anna Fell', 'The owner']);
});

test('records without any roster have the owner of the settings on call', async () => {
  const records = await demoRecords();
  const settings = { ownerPhone: '+19705550199', outfitZone: 'America/Denver' };
  await ensureOwner(records, settings);
  await ensureOwner(records, settings);
  const roster = await records.read((tx) => tx.roster());
  expect(whoIsOnCall(roster, AT)).toMatchObject([{ phone: '+19705550199', role: 'owner' }]);
});
