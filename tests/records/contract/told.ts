import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { lookAtImport, takeImport } from '../../../src/desk/told/import.ts';
import { NO_MAP } from '../../../src/desk/told/told.ts';
import type { ColumnMap, Outcome, ToldFile } from '../../../src/desk/told/told.ts';
import { keepingNotes } from '../../../src/records/keeping-notes.ts';
import type { OpenRecords } from '../../../src/records/open.ts';
import { loadScenario } from '../../../src/records/scenario.ts';
import { toldRecordsOn } from '../../../src/records/told.ts';
import { sayProblem } from '../../../src/reading/yaml.ts';
import { instantOf } from '../../../src/time/instant.ts';
import { NIGHT, conversationOf } from '../a-night.ts';

const DEMO = 'fixtures/demo/scenario.yaml';

const MODELS = `model,highest_setting_lpm,rated_elevation_m,power_draw_w,bottle_ml,tubing_m,alarms,low_purity_light
Big,10,3000,600,300,15,long tone: no power,"yellow, stays on"
`;
const PROPERTIES = `property,street_address,elevation_m,zone,emergency_number,dispatch_phone,front_desk_phone,entrance
Fernly House,3 Fernly Lane,3200,America/Denver,911,(970) 555-0180,,Ring twice
`;
const ROOMS = `property,room,phone,way_in
Fernly House,1A,(970) 555-0185,Up the stairs
fernly  house,1B,,
`;
const UNITS = `unit,model
NB-51,Big
NB-52,big
`;
const RENTALS = `rental,guest,phones,property,room,unit,first_day,last_day,people,ordered_by,order
Q-1,Jory Fenn,(970) 555-0131; 970 555 0132,Fernly House,1A,nb 51,2026-12-01,2026-12-05,2,Dr. Vennmorrow,night 5; day 8-10
Q-2,Ada Quill,+34 600 000 001,Fernly House,1b,NB-52,2026-12-01,2026-12-05,,,
`;
const ALL: readonly ToldFile[] = [
  { name: 'rentals.csv', text: RENTALS },
  { name: 'units.csv', text: UNITS },
  { name: 'rooms.csv', text: ROOMS },
  { name: 'properties.csv', text: PROPERTIES },
  { name: 'models.csv', text: MODELS },
];

/** What owners tell the desk in tables. */
export function told(records: () => OpenRecords): void {
  describe('an import', () => {
    beforeEach(() => loadScenario(records(), { name: DEMO, text: readFileSync(DEMO, 'utf8') }, NIGHT));

    const look = (files: readonly ToldFile[], map: ColumnMap = NO_MAP): Promise<Outcome> =>
      lookAtImport(toldRecordsOn(records()), files, map);
    const take = (files: readonly ToldFile[], map: ColumnMap = NO_MAP): Promise<Outcome> =>
      takeImport(toldRecordsOn(records()), files, map, { by: 'odalys', at: NIGHT });
    const rentals = (text: string): readonly ToldFile[] => [{ name: 'rentals.csv', text }];
    const staysOf = (phone: string, at: string) => records().read((tx) => tx.staysOf(phone, instantOf(at)));
    const problemsOf = async (files: readonly ToldFile[]): Promise<readonly string[]> =>
      (await look(files)).problems.map(sayProblem);

    it('tells the desk of a stay with all that hangs on it, whatever the order of the files', async () => {
      const outcome = await take(ALL);
      expect(outcome.problems).toEqual([]);
      expect(outcome.changes.map(({ table, what }) => `${what} ${table}`)).toEqual([
        'new models',
        'new properties',
        'new rooms',
        'new rooms',
        'new units',
        'new units',
        'new rentals',
        'new rentals',
      ]);
      const [stay] = await staysOf('+19705550132', '2026-12-03T02:00:00-07:00');
      expect(stay).toMatchObject({
        guestName: 'Jory Fenn',
        room: '1A',
        people: 2,
        property: { name: 'Fernly House', elevationM: 3200, dispatchNumber: '+19705550180', entrance: 'Ring twice' },
        unit: { tag: 'NB-51', model: { maximumFlowRateLpm: 10, ratedElevationM: 3000, powerDrawW: 600 } },
        order: {
          orderedBy: 'Dr. Vennmorrow',
          lines: [
            { people: 2, when: 'night', fromLpm: 5, toLpm: 5 },
            { people: 2, when: 'day', fromLpm: 8, toLpm: 10 },
          ],
        },
      });
      expect(await staysOf('+34600000001', '2026-12-03T02:00:00-07:00')).toMatchObject([{ room: '1b', order: null }]);
    });

    it('shows first what it would change, and changes nothing by it', async () => {
      const shown = await look(ALL);
      expect(await staysOf('+19705550131', '2026-12-03T02:00:00-07:00')).toEqual([]);
      expect(await take(ALL)).toEqual(shown);
    });

    it('changes nothing the second time, and leaves a note only of the first', async () => {
      await take(ALL);
      const again = await take(ALL);
      expect({ changes: again.changes, problems: again.problems }).toEqual({ changes: [], problems: [] });
      expect(again.unchanged).toBe(8);
      expect(await records().viewTables(keepingNotes)).toEqual([
        {
          at: NIGHT,
          by: 'odalys',
          what: 'import',
          details: { models: 1, properties: 1, rooms: 2, units: 2, rentals: 2 },
        },
      ]);
    });

    it('brings what is on record up to the file, and leaves alone what the file does not say', async () => {
      await take(ALL);
      const moved = await take(
        rentals(`rental,guest,phones,property,room,unit,first_day,last_day
Q-1,Jory Fenn,(970) 555-0131,Fernly House,1B,NB-52,2026-12-06,2026-12-08
`),
      );
      expect(moved.changes).toEqual([
        {
          table: 'rentals',
          what: 'changed',
          name: 'rental of Jory Fenn, unit NB-52',
          fields: [
            { heading: 'phones', from: '+19705550131; +19705550132', to: '+19705550131' },
            { heading: 'room', from: '1A', to: '1B' },
            { heading: 'unit', from: 'NB-51', to: 'NB-52' },
            { heading: 'first_day', from: '2026-12-01', to: '2026-12-06' },
            { heading: 'last_day', from: '2026-12-05', to: '2026-12-08' },
          ],
        },
      ]);
      expect(await staysOf('+19705550132', '2026-12-07T02:00:00-07:00')).toEqual([]);
      expect(await staysOf('+19705550131', '2026-12-07T02:00:00-07:00')).toMatchObject([
        { unit: { tag: 'NB-52' }, people: 2, order: { orderedBy: 'Dr. Vennmorrow' } },
      ]);
    });

    it('knows a rental without a number by its guest, unit and days', async () => {
      const plain = (last: string) =>
        rentals(`guest,phones,property,room,unit,first_day,last_day
Perrin Aldwick,(970) 555-0101,Marlstone Lodge,204,NB-01,2026-11-24,${last}
`);
      expect((await look(plain('2026-11-28'))).changes).toEqual([]);
      expect((await look(plain('2026-11-30'))).changes).toMatchObject([
        { what: 'changed', fields: [{ heading: 'last_day', from: '2026-11-28', to: '2026-11-30' }] },
      ]);
    });

    it('names all that is wrong at once, each with its file, line, column, what came and what is allowed', async () => {
      const files = [
        {
          name: 'properties.csv',
          text: `property,street_address,elevation_m,zone,emergency_number
High House,1 High Road,9600,America/Denver,911
Low House,1 Low Road,"2,900",Denver,nine
`,
        },
        { name: 'models.csv', text: 'model,highest_setting_lpm,bottle_ml\nSmall,-5,0\n' },
        {
          name: 'rentals.csv',
          text: `guest,phones,property,room,unit,first_day,last_day,order
A,555,Marlstone Lodge,1,NB-01,2026-12-01,2026-02-30,
B,(970) 555-0131,High House,1,NB-01,2026-12-01,2026-12-02,
C,(970) 555-0131,Marlston Lodge,1,NB-77,2026-12-05,2026-12-04,2
D,(970) 555-0131,Marlstone Lodge,1,NB-09,2026-12-01,2026-12-02,6
`,
        },
      ];
      expect(await problemsOf(files)).toEqual([
        expect.stringMatching(/^models.csv:2:2: highest_setting_lpm: "-5" came; allowed: .*0.1 to 15 L\/min/),
        expect.stringMatching(/^models.csv:2:3: bottle_ml: "0" came; allowed: .*10 to 2000 mL/),
        expect.stringMatching(/^properties.csv:2:3: elevation_m: "9600" came; .*-430 to 5600 m.*feet.*0.3048/),
        expect.stringMatching(/^properties.csv:3:3: elevation_m: "2,900" came/),
        expect.stringMatching(/^properties.csv:3:4: zone: "Denver" came; allowed: .*America\/Denver/),
        expect.stringMatching(/^properties.csv:3:5: emergency_number: "nine" came/),
        expect.stringMatching(/^rentals.csv:2:2: phones: "555" came; allowed: a phone number/),
        expect.stringMatching(/^rentals.csv:2:7: last_day: "2026-02-30" came; allowed: a date/),
        // Of the row about High House nothing is said: what is wrong with it stands in its own file.
        expect.stringMatching(/^rentals.csv:4:1: ordered_by: it is empty beside an order/),
        expect.stringMatching(/^rentals.csv:4:3: property: "Marlston Lodge" came; allowed: .*Marlstone Lodge/),
        expect.stringMatching(/^rentals.csv:4:5: unit: "NB-77" came; allowed: .*nearest is NB-/),
        expect.stringMatching(/^rentals.csv:4:7: last_day: 2026-12-04 is before the first day, 2026-12-05/),
        expect.stringMatching(/^rentals.csv:5:1: ordered_by/),
      ]);
    });

    it('takes over nothing when one row of one file is wrong', async () => {
      const files = [...ALL, { name: 'people.csv', text: 'name,phone,role\nBo,(970) 555-0199,boss\n' }];
      const outcome = await take(files);
      expect(outcome.problems.map(sayProblem)).toEqual([
        expect.stringMatching(/^people.csv:2:3: role: "boss" came; allowed: technician or owner/),
      ]);
      expect(await staysOf('+19705550131', '2026-12-03T02:00:00-07:00')).toEqual([]);
      expect(await records().viewTables(keepingNotes)).toEqual([]);
    });

    it('refuses stays of one unit that share a day, in the file and with those on record', async () => {
      const head = 'guest,phones,property,room,unit,first_day,last_day';
      const rows = [
        'A,(970) 555-0131,Marlstone Lodge,1,NB-01,2026-11-28,2026-12-02',
        'B,(970) 555-0132,Marlstone Lodge,2,NB-02,2026-12-10,2026-12-12',
        'C,(970) 555-0133,Marlstone Lodge,3,nb02,2026-12-12,2026-12-14',
        'D,(970) 555-0134,Marlstone Lodge,4,NB-02,2026-12-15,2026-12-16',
      ];
      expect(await problemsOf(rentals([head, ...rows].join('\n')))).toEqual([
        expect.stringMatching(
          /^rentals.csv:2:5: unit: NB-01 is taken from 2026-11-28.*on record, 2026-11-24 to 2026-11-28/,
        ),
        expect.stringMatching(/^rentals.csv:4:5: unit: NB-02 is taken from 2026-12-12.*rentals.csv, line 3/),
      ]);
    });

    it('refuses one thing in two rows, an order above the unit, and a technician’s phone', async () => {
      const files = [
        { name: 'units.csv', text: 'unit,model\nNB-60,Ten-litre home unit\nnb 60,Five-litre home unit\n' },
        {
          name: 'rentals.csv',
          text: `guest,phones,property,room,unit,first_day,last_day,ordered_by,order
A,(970) 555-0190,Marlstone Lodge,1,NB-09,2026-12-10,2026-12-12,Dr. V,1 person night 2; 2 people day 8
`,
        },
      ];
      expect(await problemsOf(files)).toEqual([
        expect.stringMatching(/^rentals.csv:2:2: phones: \+19705550190 is the phone of Bram Tiddlecote/),
        expect.stringMatching(/^rentals.csv:2:9: order: 8 L\/min came; allowed: up to 5 L\/min/),
        expect.stringMatching(/^units.csv:3:1: unit nb 60 stands in line 2 already/),
      ]);
    });

    it('refuses a room that is not among those listed for its property', async () => {
      await take(ALL);
      const text = `guest,phones,property,room,unit,first_day,last_day
A,(970) 555-0133,Fernly House,1C,NB-52,2026-12-20,2026-12-21
`;
      expect(await problemsOf(rentals(text))).toEqual([
        expect.stringMatching(/^rentals.csv:2:4: room: "1C" came; allowed: a room of Fernly House.*1A, 1B/),
      ]);
    });

    it('says which unit stands higher than its maker vouches for, and which phone is on two stays of a day', async () => {
      const text = `guest,phones,property,room,unit,first_day,last_day
A,(970) 555-0133,Fernly House,1A,NB-51,2026-12-20,2026-12-22
A,(970) 555-0133,Fernly House,1B,NB-52,2026-12-20,2026-12-22
B,(970) 555-0133,Marlstone Lodge,9,NB-03,2026-12-23,2026-12-24
`;
      const { notes, problems } = await take([...ALL.slice(1), ...rentals(text)]);
      expect(problems).toEqual([]);
      expect(notes.map(sayProblem)).toEqual([
        expect.stringMatching(/^rentals.csv:2:5: unit: NB-51 is rated up to 3000 m and Fernly House stands at 3200 m/),
        expect.stringMatching(/^rentals.csv:3:2: phones: .*another rental of the same days .*the desk will ask which/),
        expect.stringMatching(/^rentals.csv:3:5: unit: NB-52 is rated up to 3000 m/),
      ]);
      // On two rentals one after the other, the day tells which.
      const at = (day: string) => staysOf('+19705550133', `${day}T12:00:00-07:00`);
      expect((await at('2026-12-23')).map((stay) => stay.room)).toEqual(['9']);
      expect((await at('2026-12-21')).map((stay) => stay.room)).toEqual(['1A', '1B']);
    });

    it('takes a time with an offset as the day it is at the property', async () => {
      const text = `guest,phones,property,room,unit,first_day,last_day
A,(970) 555-0133,Marlstone Lodge,9,NB-12,2026-12-11T03:00:00Z,2026-12-13 06:59:00+00:00
`;
      await take(rentals(text));
      const [stay] = await staysOf('+19705550133', '2026-12-11T12:00:00-07:00');
      expect([stay?.firstDay, stay?.lastDay]).toEqual(['2026-12-10', '2026-12-12']);
    });

    it('reads the owner’s own headings and dates by a column map', async () => {
      const map: ColumnMap = {
        dates: 'month/day/year',
        tables: {
          rentals: {
            guest: ['First name', 'Last name'],
            phones: ['Mobile', 'Second mobile'],
            property: ['Hotel'],
            room: ['Room'],
            unit: ['Machine'],
            first_day: ['Arrival'],
            last_day: ['Departure'],
          },
        },
      };
      const text = `First name;Last name;Mobile;Second mobile;Hotel;Room;Machine;Arrival;Departure;Paid
Ada;Quill;(970) 555-0133;;Marlstone Lodge;9;NB-12;12/10/2026;12/11/2026;yes
`;
      const files = [{ name: 'Bookings 2026.csv', text }];
      await take(files, map);
      expect(await staysOf('+19705550133', '2026-12-10T12:00:00-07:00')).toMatchObject([{ guestName: 'Ada Quill' }]);
      const wrong = { ...map, tables: { rentals: { ...map.tables.rentals, room: ['Zimmer'] } } };
      const { problems } = await look([{ name: 'rentals.csv', text }], wrong);
      expect(problems.map(sayProblem)).toEqual([
        'rentals.csv:1:1: there is no heading "Zimmer", which your column map gives for room',
      ]);
    });

    it('takes a cancelled rental away, but not one whose guest has written', async () => {
      const cancelled = (guest: string, phone: string, unit: string, from: string, to: string) =>
        rentals(`guest,phones,property,room,unit,first_day,last_day,cancelled
${guest},${phone},Thistlemark Cabins,Cabin 1,${unit},${from},${to},yes
`);
      const linnea = cancelled('Linnea Ostwick', '(970) 555-0112', 'NB-12', '2026-11-27', '2026-12-02');
      expect((await take(linnea)).changes).toMatchObject([{ what: 'taken away' }]);
      expect(await staysOf('+19705550112', '2026-11-28T12:00:00-07:00')).toEqual([]);
      expect((await take(linnea)).changes).toEqual([]);

      await records().transaction(async (tx) => {
        const [stay] = await tx.staysOf('+19705550104', NIGHT);
        await tx.keepFlowVersion('a flow', {}, NIGHT);
        await tx.lockPhone('+19705550104');
        const opened = conversationOf('+19705550104', { rentalId: stay?.rentalId ?? 0, flowHash: 'a flow' });
        await tx.openConversation(opened);
      });
      const ysolde = cancelled('Ysolde Kettermere', '(970) 555-0104', 'NB-04', '2026-11-22', '2026-11-27');
      expect((await look(ysolde)).problems.map(sayProblem)).toEqual([
        expect.stringMatching(/^rentals.csv:2:8: cancelled: .*stays on record.*last_day/),
      ]);
    });

    it('keeps at least one owner', async () => {
      const people = [{ name: 'people.csv', text: 'name,phone,role\nOdalys Fenwright,(970) 555-0192,technician\n' }];
      expect((await look(people)).problems.map(sayProblem)).toEqual([
        expect.stringMatching(/^people.csv:2:3: role: nobody would be the owner any more/),
      ]);
    });
  });
}
