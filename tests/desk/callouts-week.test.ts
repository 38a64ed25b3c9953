import { expect, test } from 'vitest';
import { instantOf, wallClock } from '../../src/time/instant.ts';
import type { Instant } from '../../src/time/instant.ts';
import { BRAM, GUEST, INES, ODALYS, nightDesk } from './night-desk.ts';
import { pocketCarrier } from './pocket-carrier.ts';

/** Who is to be woken first at half past two in each night of the week, by the demo's roster: Bram from Monday, Ines from Friday. */
const FIRST = { 1: INES, 2: BRAM, 3: BRAM, 4: BRAM, 5: BRAM, 6: INES, 7: INES } as const;

test('a whole week of nights: each wakes the one on call, is taken and closed, and leaves nothing behind', async () => {
  const desk = await nightDesk({ startsAt: instantOf('2026-11-25T02:30:00-07:00') });
  for (let night = 0; night < 7; night += 1) {
    const { dayOfWeek } = wallClock(desk.now(), 'America/Denver');
    const first = FIRST[dayOfWeek as keyof typeof FIRST];
    const before = desk.carrier.sent.length;
    await desk.text(GUEST, 'I want to talk to a person');
    const asked = desk.carrier.sent.slice(before).map((text) => text.to);
    expect(asked, `night ${night}`).toEqual([first]);
    expect(await desk.text(first, 'TAKE')).toMatch(/is yours/);
    await desk.pass('PT20M');
    expect(await desk.text(first, 'DONE talked it through')).toMatch(/closed/);
    const closed = desk.carrier.calls.length;
    await desk.pass('PT23H40M');
    expect(desk.carrier.calls).toHaveLength(closed);
    expect(desk.carrier.sent.slice(before).filter(({ body }) => body.includes('TAKE'))).toHaveLength(1);
  }
});

test('a week in which nobody answers what can wait: everyone is tried over and over by day, and nobody at night', async () => {
  const carrier = pocketCarrier();
  const sentAt: Instant[] = [];
  const desk = await nightDesk({
    startsAt: instantOf('2026-11-25T02:30:00-07:00'),
    carrier: {
      ...carrier,
      sendText(text) {
        sentAt.push(desk.now());
        return carrier.sendText(text);
      },
    },
  });
  await desk.text(GUEST, 'can you pick up the unit on friday');
  await desk.text(GUEST, 'no');
  await desk.pass('PT168H');
  for (const phone of [BRAM, INES, ODALYS]) {
    const asked = desk.carrier.textsTo(phone).filter((text) => text.includes('TAKE 1'));
    expect(asked.length).toBeGreaterThan(10);
  }
  expect(desk.carrier.calls).toEqual([]);
  const atNight = sentAt.filter(
    (at) => wallClock(at, 'America/Denver').hour < 7 || wallClock(at, 'America/Denver').hour >= 21,
  );
  expect(atNight).toEqual([]);
});
