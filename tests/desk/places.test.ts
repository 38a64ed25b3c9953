import { expect, test } from 'vitest';
import { DOES_NOT_START, LITTLE_QUESTION, littleBook } from './little-flow.ts';
import { BRAM, GUEST, STRANGER, conversationOf, nightDesk } from './night-desk.ts';

const BLUE_LIPS = 'my husband has blue lips';
const littleDesk = () => nightDesk({ book: littleBook() });
const ASKED_WHERE = /tag on the unit.*room/;

test('an unknown number is helped like any other, and asked once for the tag or the room', async () => {
  const desk = await littleDesk();
  const first = await desk.text(STRANGER, DOES_NOT_START);
  expect(first.startsWith(LITTLE_QUESTION)).toBe(true);
  expect(first).toMatch(ASKED_WHERE);
  expect(await desk.text(STRANGER, 'yes')).not.toMatch(ASKED_WHERE);
});

test('a guest whose stay is known is not asked where', async () => {
  const desk = await littleDesk();
  expect(await desk.text(GUEST, DOES_NOT_START)).toBe(LITTLE_QUESTION);
});

test('the tag alone finds the stay, and the question that stands is said again', async () => {
  const desk = await littleDesk();
  await desk.text(STRANGER, DOES_NOT_START);
  const reply = await desk.text(STRANGER, 'NB-03');
  expect(reply).toMatch(/have you at 12/);
  expect(reply.endsWith(LITTLE_QUESTION)).toBe(true);
  // It was no answer, but no miss either: two misses would bring a person.
  expect(reply).not.toMatch(/sorry/i);
  expect(await desk.text(STRANGER, BLUE_LIPS)).toContain('7 Sixpenny Lane, Quillmere Basin, 12');
  expect(desk.carrier.textsTo(BRAM).join()).toContain('Inn at Sixpenny Tarn, 12, unit NB-03');
});

test('the tag in a danger text gives the dispatcher’s address in that very reply', async () => {
  const desk = await littleDesk();
  const reply = await desk.text(STRANGER, `${BLUE_LIPS}, unit NB-03`);
  expect(reply).toContain('7 Sixpenny Lane, Quillmere Basin, 12');
});

test('a tag that nobody knows finds nothing and holds nothing up', async () => {
  const desk = await littleDesk();
  await desk.text(STRANGER, DOES_NOT_START);
  expect(await desk.text(STRANGER, 'NB-77')).toContain(LITTLE_QUESTION);
  expect(await conversationOf(desk, STRANGER)).toMatchObject({ rentalId: null });
});

test('a new room is a new conversation that inherits no unit, no address and no room', async () => {
  const desk = await littleDesk();
  await desk.text(GUEST, DOES_NOT_START);
  const { id, rentalId } = await conversationOf(desk, GUEST);
  expect(rentalId).not.toBeNull();
  await desk.text(GUEST, `${DOES_NOT_START} in room 305`);
  expect(await conversationOf(desk, GUEST)).toMatchObject({ rentalId: null, propertyId: null, room: '305' });
  expect((await conversationOf(desk, GUEST)).id).not.toBe(id);
  const reply = await desk.text(GUEST, BLUE_LIPS);
  expect(reply).not.toMatch(/Marlstone|204/);
  expect(reply).toMatch(/address and room/);
});

test('a room named by a guest is a room where they stay, never the same number somewhere else', async () => {
  const desk = await littleDesk();
  // Room 118 of the same lodge is rented; room 12 is, but at another property.
  expect(await desk.text(GUEST, 'the man in room 118 has blue lips')).toContain(
    '14 Marlstone Way, Quillmere Basin, 118',
  );
  expect(await desk.text(GUEST, 'the man in room 12 has blue lips')).toMatch(/address and room/);
});

test('a phone with two rooms is not asked a second time once it has named one', async () => {
  const desk = await littleDesk();
  const phone = '+19705550110';
  expect(await desk.text(phone, DOES_NOT_START)).toMatch(ASKED_WHERE);
  expect(await desk.text(phone, 'room 302')).toMatch(/have you at 302/);
  expect(await desk.text(phone, BLUE_LIPS)).toContain('14 Marlstone Way, Quillmere Basin, 302');
});

test('a guest who left yesterday is nobody’s guest today', async () => {
  const desk = await littleDesk();
  expect(await desk.text('+19705550111', BLUE_LIPS)).not.toContain('Thistlemark');
});

test.for(['12345', 'LIFTPASS'])(
  'a short code or sender name (%s) gets nothing, and nothing is kept of it',
  async (from) => {
    const desk = await littleDesk();
    expect(await desk.text(from, BLUE_LIPS)).toBe('');
    expect(await desk.look((tx) => tx.latestConversation(from))).toBeNull();
    expect(desk.carrier.sent).toEqual([]);
  },
);
