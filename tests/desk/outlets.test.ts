import { expect, test } from 'vitest';
import { after } from '../../src/time/instant.ts';
import { beliefsAt } from '../../src/desk/guest/outlets.ts';
import type { Place } from './rooms.ts';
import { moveIn } from './rooms.ts';
import { GUEST, LOWEN, LOWENS_OTHER_PHONE, STRANGER, nightDesk } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

const NO_POWER = 'it won’t start';
const TONE = 'one long tone that never ends';
const MOVED = 'rolled it to the other wall. one short beep';
const A2: Place = { property: 'Tarnhook Condominiums', room: 'A2', unit: 'NB-12' };
const NEXT_GUEST = '+19705550150';

async function believed(desk: NightDesk, { property, room }: Place = A2) {
  const { properties } = await desk.pages.records.places();
  const id = properties.find(({ name }) => name === property)?.id ?? 0;
  return beliefsAt(await desk.look((tx) => tx.outletNotes(id, room)), desk.now()).map(
    ({ place, worked, failed, sure }) => `${place} ${worked}:${failed} ${sure.toFixed(2)}`,
  );
}

/** The matter is settled by moving the unit. */
async function settledByMoving(desk: NightDesk, phone: string, ...texts: string[]): Promise<string> {
  await desk.text(phone, NO_POWER);
  await desk.text(phone, TONE);
  let last = await desk.text(phone, MOVED);
  for (const words of texts) last = await desk.text(phone, words);
  return last;
}

test('a unit that was moved to power teaches the room, and the next guest there is told first of all', async () => {
  const desk = await nightDesk();
  await desk.text(LOWEN, NO_POWER);
  await desk.text(LOWEN, `still ${TONE}, it is plugged in left of the bed`);
  expect(await desk.text(LOWEN, MOVED)).toMatch(/It was the outlet\..*\nFor the next guest: what is that outlet by\?/);
  expect(await desk.text(LOWEN, 'by the window')).toMatch(/^Thank you, that helps the next guest\./);
  expect(await believed(desk)).toEqual(['window 1:0 0.67', 'bed-left 0:1 0.33']);

  await desk.setClock(after(desk.now(), 'PT240H'));
  await moveIn(desk, NEXT_GUEST, A2);
  expect(await desk.text(NEXT_GUEST, NO_POWER)).toMatch(
    /^An outlet by the window worked here before\. Sit; have someone/,
  );
  expect(await desk.text(NEXT_GUEST, 'one short beep')).toMatch(/^Good: one short beep means it has power/);
  expect(await believed(desk)).toEqual(['window 2:0 0.75', 'bed-left 0:1 0.34']);
});

test('in another room nothing is told, nor to someone whose room is not known', async () => {
  const desk = await nightDesk();
  await settledByMoving(desk, LOWEN, 'window');
  expect(await desk.text(GUEST, NO_POWER)).toMatch(/^Turn on the wall switches/);
  expect(await desk.text(STRANGER, NO_POWER)).toMatch(/^Turn on the wall switches/);
});

test('a guest who says where in the same breath is not asked; where it went counts, not where it came from', async () => {
  const desk = await nightDesk();
  await desk.text(LOWEN, NO_POWER);
  await desk.text(LOWEN, TONE);
  const reply = await desk.text(LOWEN, 'moved it from the bed to the desk. one short beep');
  expect(reply).toMatch(/^It was the outlet/);
  expect(reply).not.toContain('next guest');
  expect(await believed(desk)).toEqual(['desk 1:0 0.67']);
});

test('nobody says where: the next guest hears of another wall, in their language', async () => {
  const desk = await nightDesk();
  await settledByMoving(desk, LOWEN, 'no idea');
  expect(await believed(desk)).toEqual(['other-wall 1:0 0.67']);
  expect(await desk.text(LOWENS_OTHER_PHONE, 'el equipo no enciende')).toMatch(
    /^Sirv|^Aqu. sirvi. un enchufe en otra pared/,
  );
});

test('a known outlet that does not help is contradicted and told no more; the contradiction ages out', async () => {
  const desk = await nightDesk();
  await settledByMoving(desk, LOWEN, 'window');
  await desk.setClock(after(desk.now(), 'PT240H'));
  await moveIn(desk, NEXT_GUEST, A2);
  expect(await desk.text(NEXT_GUEST, NO_POWER)).toContain('by the window');
  expect(await desk.text(NEXT_GUEST, TONE)).toMatch(/^That outlet may be dead/);
  expect(await believed(desk)).toEqual(['window 1:1 0.50']);
  await desk.text(NEXT_GUEST, 'one short beep, by the door');
  expect(await believed(desk)).toEqual(['door 1:0 0.67', 'window 1:1 0.50']);

  await desk.setClock(after(desk.now(), 'PT9600H'));
  await moveIn(desk, NEXT_GUEST, A2);
  expect(await desk.text(NEXT_GUEST, NO_POWER)).toMatch(/^Turn on the wall switches/);
  await desk.text(NEXT_GUEST, 'pushed the plug in by the window, one short beep');
  expect((await believed(desk))[0]).toBe('window 2:1 0.64');
});

test('whoever was asked where and tells of a beeping unit instead is helped with that', async () => {
  const desk = await nightDesk();
  await settledByMoving(desk, LOWEN);
  expect(await desk.text(LOWEN, 'by the bed but it beeps again')).not.toMatch(/next guest/);
  expect(await believed(desk)).toEqual(['other-wall 1:0 0.67']);
});

test('danger in the answer to where is danger', async () => {
  const desk = await nightDesk();
  expect(await settledByMoving(desk, LOWEN, 'by the door. her lips are blue')).toMatch(/^Call 911 now/);
});
