import { describe, expect, test } from 'vitest';
import { rosterNews } from '../../src/roster/news.ts';
import { gapsAndOverlaps } from '../../src/roster/gaps.ts';
import { whoIsOnCall } from '../../src/roster/on-call.ts';
import { nightOf, readSwap } from '../../src/roster/swap-words.ts';
import { instantOf } from '../../src/time/instant.ts';
import type { Roster } from '../../src/roster/roster.ts';
import { ANNA, BEN, EVERY_DAY, ODA, rosterOf, shift } from './people.ts';

// 25 November 2026 is a Wednesday.
const NIGHTS = rosterOf([
  shift(ANNA, EVERY_DAY, '20:00', '08:00', 1),
  shift(BEN, EVERY_DAY, '20:00', '08:00', 2),
  shift(BEN, EVERY_DAY, '08:00', '20:00', 1),
]);

const onCall = (roster: Roster, at: string): string[] =>
  whoIsOnCall(roster, instantOf(at)).map((person) => person.name.split(' ')[0] ?? '');

describe('a swap', () => {
  const swapped = { ...NIGHTS, swaps: [{ day: '2026-11-25', personId: ANNA.id, withId: BEN.id }] };

  test.for([
    ['2026-11-25T19:59:00-07:00', ['Ben', 'Oda']],
    ['2026-11-25T20:00:00-07:00', ['Ben', 'Anna', 'Oda']],
    ['2026-11-26T07:59:00-07:00', ['Ben', 'Anna', 'Oda']],
    ['2026-11-26T08:00:00-07:00', ['Ben', 'Oda']],
    ['2026-11-26T20:00:00-07:00', ['Anna', 'Ben', 'Oda']],
    ['2026-11-24T20:00:00-07:00', ['Anna', 'Ben', 'Oda']],
  ] as const)('is of one night, past midnight, and of nothing else: at %s it is %j', ([at, names]) => {
    expect(onCall(swapped, at)).toEqual(names);
  });

  test('with someone who was not on puts them in the place', () => {
    const alone = rosterOf([shift(ANNA, EVERY_DAY, '20:00', '08:00')]);
    const roster = { ...alone, swaps: [{ day: '2026-11-25', personId: BEN.id, withId: ANNA.id }] };
    expect(onCall(roster, '2026-11-26T02:00:00-07:00')).toEqual(['Ben', 'Oda']);
  });

  test('also moves the half of a night that begins at midnight', () => {
    const halves = rosterOf([
      shift(ANNA, EVERY_DAY, '20:00', '00:00'),
      shift(ANNA, EVERY_DAY, '00:00', '08:00'),
      shift(BEN, EVERY_DAY, '08:00', '20:00'),
    ]);
    const roster = { ...halves, swaps: [{ day: '2026-11-25', personId: ANNA.id, withId: BEN.id }] };
    expect(onCall(roster, '2026-11-25T23:00:00-07:00')[0]).toBe('Ben');
    expect(onCall(roster, '2026-11-26T03:00:00-07:00')[0]).toBe('Ben');
    expect(onCall(roster, '2026-11-25T03:00:00-07:00')[0]).toBe('Anna');
  });
});

describe('a holiday', () => {
  const watch = { personId: BEN.id, from: '08:00', to: '08:00', position: 1 };
  const holiday = { ...NIGHTS, holidays: [{ day: '2026-12-25', name: 'Christmas', shifts: [watch] }] };

  test('has shifts of its own in place of the week’s', () => {
    expect(onCall(holiday, '2026-12-25T22:00:00-07:00')).toEqual(['Ben', 'Oda']);
    expect(onCall(holiday, '2026-12-26T07:59:00-07:00')).toEqual(['Ben', 'Oda']);
  });

  test('leaves the night that began before it to who began it', () => {
    expect(onCall(holiday, '2026-12-25T07:00:00-07:00')).toEqual(['Anna', 'Ben', 'Oda']);
    expect(onCall(holiday, '2026-12-26T21:00:00-07:00')).toEqual(['Anna', 'Ben', 'Oda']);
  });

  test('without any falls to the owner', () => {
    const nobody = { ...NIGHTS, holidays: [{ day: '2026-12-25', name: 'Christmas', shifts: [] }] };
    expect(onCall(nobody, '2026-12-25T22:00:00-07:00')).toEqual(['Oda']);
  });
});

describe('gaps and overlaps', () => {
  const from = instantOf('2026-11-25T12:00:00-07:00');
  const until = instantOf('2026-11-26T12:00:00-07:00');

  test('of a whole roster are none', () => {
    expect(gapsAndOverlaps(NIGHTS, from, until)).toEqual([]);
  });

  test('are told with their instants, cut to the time that was asked for', () => {
    const roster = rosterOf([
      shift(ANNA, EVERY_DAY, '22:00', '06:00'),
      shift(BEN, EVERY_DAY, '05:00', '09:00'),
      shift(ODA, EVERY_DAY, '05:00', '09:00', 2),
    ]);
    expect(gapsAndOverlaps(roster, from, until)).toEqual([
      { kind: 'gap', from, until: instantOf('2026-11-25T22:00:00-07:00') },
      {
        kind: 'overlap',
        from: instantOf('2026-11-26T05:00:00-07:00'),
        until: instantOf('2026-11-26T06:00:00-07:00'),
        position: 1,
        personIds: [ANNA.id, BEN.id],
      },
      { kind: 'gap', from: instantOf('2026-11-26T09:00:00-07:00'), until },
    ]);
  });

  test('someone who left leaves a gap', () => {
    expect(gapsAndOverlaps({ ...NIGHTS, people: [ODA] }, from, until)).toEqual([{ kind: 'gap', from, until }]);
  });

  test('an empty roster is said to be, with who is on call', () => {
    expect(rosterNews(rosterOf([]), from)).toEqual([expect.stringMatching(/empty.*Oda Wren/)]);
  });

  test('a gap of the coming week is said with its hours there and who it falls to', () => {
    const roster = rosterOf([shift(ANNA, [1, 2, 3, 4, 5, 6], '12:00', '12:00')]);
    expect(rosterNews(roster, from)).toEqual([
      'Nobody is on call Sun 2026-11-29 12:00 to Mon 2026-11-30 12:00: it falls to Oda Wren.',
    ]);
    expect(rosterNews(NIGHTS, from)).toEqual([]);
  });
});

describe('words about the roster', () => {
  test.for([
    ['SWAP tonight WITH Ines', { kind: 'swap', night: 'tonight', who: null, with: 'Ines' }],
    ['swap with ines', { kind: 'swap', night: 'tonight', who: null, with: 'ines' }],
    ['Swap friday night with Ines Quarrow.', { kind: 'swap', night: 'friday', who: null, with: 'Ines Quarrow' }],
    ['swap 2026-12-24 Bram with Ines', { kind: 'swap', night: '2026-12-24', who: 'Bram', with: 'Ines' }],
    ['swap Bram with Ines', { kind: 'swap', night: 'tonight', who: 'Bram', with: 'Ines' }],
    ['no swap fri', { kind: 'undo', night: 'fri' }],
    ['ON CALL?', { kind: 'who' }],
    ['who is on call', { kind: 'who' }],
    ['swap', { kind: 'unclear' }],
    ['swap tonight', { kind: 'unclear' }],
    ['swapped the unit', null],
    ['I swap it with the spare', null],
  ] as const)('"%s" is heard as %j', ([text, words]) => {
    expect(readSwap(text)).toEqual(words);
  });

  test.for([
    ['tonight', '2026-11-25T02:10:00-07:00', '2026-11-24'],
    ['tonight', '2026-11-25T09:00:00-07:00', '2026-11-25'],
    ['tomorrow', '2026-11-25T02:10:00-07:00', '2026-11-25'],
    ['wed', '2026-11-25T12:00:00-07:00', '2026-11-25'],
    ['tuesday', '2026-11-25T12:00:00-07:00', '2026-12-01'],
    ['2026-12-24', '2026-11-25T12:00:00-07:00', '2026-12-24'],
  ] as const)('%s, said at %s, is the night of %s', ([night, at, day]) => {
    expect(nightOf(night, 'America/Denver', instantOf(at))).toBe(day);
  });
});
