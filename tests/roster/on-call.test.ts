import { expect, test } from 'vitest';
import type { Person, Roster, Shift } from '../../src/roster/roster.ts';
import { whoIsOnCall } from '../../src/roster/on-call.ts';
import { instantOf } from '../../src/time/instant.ts';

const ANNA: Person = { id: 1, name: 'Anna', phone: '+19705550121', role: 'technician' };
const BEN: Person = { id: 2, name: 'Ben', phone: '+19705550122', role: 'technician' };
const OWNER: Person = { id: 3, name: 'Oda', phone: '+19705550123', role: 'owner' };

const shift = (person: Person, days: readonly number[], from: string, to: string, position = 1): Shift => ({
  personId: person.id,
  days,
  from,
  to,
  position,
});

function onCall(shifts: readonly Shift[], at: string, people: readonly Person[] = [ANNA, BEN, OWNER]): string[] {
  const roster: Roster = { zone: 'America/Denver', people, shifts, holidays: [], swaps: [] };
  return whoIsOnCall(roster, instantOf(at)).map((person) => person.name);
}

// 25 November 2026 is a Wednesday, day 3.
const WEDNESDAY_NIGHT = [shift(ANNA, [3], '20:00', '08:00')];

test.for([
  ['2026-11-25T19:59:59-07:00', ['Oda']],
  ['2026-11-25T20:00:00-07:00', ['Anna', 'Oda']],
  ['2026-11-26T02:10:00-07:00', ['Anna', 'Oda']],
  ['2026-11-26T07:59:00-07:00', ['Anna', 'Oda']],
  ['2026-11-26T08:00:00-07:00', ['Oda']],
  ['2026-11-25T02:10:00-07:00', ['Oda']],
  ['2026-11-26T21:00:00-07:00', ['Oda']],
] as const)('a shift over midnight belongs to the day it starts on: at %s it is %j', ([at, expected]) => {
  expect(onCall(WEDNESDAY_NIGHT, at)).toEqual(expected);
});

test('a night of Sunday runs into Monday', () => {
  expect(onCall([shift(ANNA, [7], '20:00', '08:00')], '2026-11-23T03:00:00-07:00')).toEqual(['Anna', 'Oda']);
});

test('the roster’s own zone decides, not the zone in which the time is written', () => {
  expect(onCall(WEDNESDAY_NIGHT, '2026-11-26T03:00:00Z')).toEqual(['Anna', 'Oda']);
  expect(onCall(WEDNESDAY_NIGHT, '2026-11-26T02:59:00Z')).toEqual(['Oda']);
});

test('those on shift are tried by position, then the owner', () => {
  const shifts = [shift(BEN, [3], '08:00', '20:00', 2), shift(ANNA, [3], '08:00', '20:00', 1)];
  expect(onCall(shifts, '2026-11-25T12:00:00-07:00')).toEqual(['Anna', 'Ben', 'Oda']);
});

test('nobody is tried twice, however many shifts they have', () => {
  const shifts = [
    shift(OWNER, [3], '08:00', '20:00', 1),
    shift(ANNA, [3], '08:00', '20:00', 2),
    shift(ANNA, [3], '10:00', '14:00', 3),
  ];
  expect(onCall(shifts, '2026-11-25T12:00:00-07:00')).toEqual(['Oda', 'Anna']);
});

test('a gap in the shifts falls to the owner', () => {
  expect(onCall([], '2026-11-25T12:00:00-07:00')).toEqual(['Oda']);
});

test('a shift of someone who left names nobody, and the rest stands', () => {
  expect(onCall(WEDNESDAY_NIGHT, '2026-11-26T02:10:00-07:00', [BEN, OWNER])).toEqual(['Oda']);
});

test('a shift from an hour to the same hour is a whole day', () => {
  const day = [shift(ANNA, [3], '08:00', '08:00')];
  expect(onCall(day, '2026-11-26T07:59:00-07:00')).toEqual(['Anna', 'Oda']);
  expect(onCall(day, '2026-11-26T08:00:00-07:00')).toEqual(['Oda']);
});

test.for(['2026-11-01T01:30:00-06:00', '2026-11-01T01:30:00-07:00', '2026-03-08T03:30:00-06:00'])(
  'on the nights when clocks change, someone on until eight is on at %s',
  (at) => {
    expect(onCall([shift(ANNA, [6], '20:00', '08:00')], at)).toEqual(['Anna', 'Oda']);
  },
);
