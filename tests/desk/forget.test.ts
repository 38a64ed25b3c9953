import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { forget } from '../../src/desk/keeping/forget.ts';
import { keepingNotes } from '../../src/records/keeping-notes.ts';
import type { OpenRecords } from '../../src/records/open.ts';
import { BRAM, GUEST, LOWEN, LOWENS_OTHER_PHONE, NIGHT, conversationOf, nightDesk } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';
import { after } from '../../src/time/instant.ts';

/** What only this guest said, and what only they are called. */
const TRACES = [GUEST, '(970) 555-0101', 'Perrin Aldwick', 'marmalade', 'gooseberry', 'Vennmorrow 2 L'];
const BY = { by: 'odalys', at: after(NIGHT, 'PT240H') };

/** A night with everything in it that leaves words somewhere: danger, a callout, a talk with the technician, a note. */
async function aFullNight(desk: NightDesk): Promise<void> {
  await desk.text(GUEST, 'marmalade on the outlet and it will not start', {
    NumMedia: '1',
    MediaUrl0: 'https://x.example/marmalade',
  });
  await desk.text(GUEST, 'my wife has blue lips');
  await desk.text(BRAM, 'take');
  await desk.text(GUEST, 'the gooseberry door is open');
  await desk.text(BRAM, 'tell on my way past the gooseberry bush');
  await desk.text(BRAM, 'done Perrin Aldwick is fine, gooseberry jam');
  await desk.pass('PT30M');
}

/** Every value that the records hold, as text. */
async function everything(records: OpenRecords): Promise<string> {
  return records.viewTables(async ({ db }) => {
    const tables = await db.introspection.getTables();
    const rows: unknown[] = [];
    for (const { name } of tables)
      rows.push(
        ...(await db
          .selectFrom(name as 'work')
          .selectAll()
          .execute()),
      );
    return JSON.stringify(rows);
  });
}

test('a guest is forgotten: nothing they said and no way to reach them is left, and every count is', async () => {
  const desk = await nightDesk();
  await aFullNight(desk);
  const { id, guestMessages, openedAt, ending } = await conversationOf(desk, GUEST);
  const [callout] = await desk.look((tx) => tx.callouts(id));
  const before = await everything(desk.records);
  for (const trace of TRACES.slice(0, 5)) expect(before).toContain(trace);

  const forgotten = await forget(desk.records, GUEST, BY);
  expect(forgotten).toMatchObject({ conversations: 1, callouts: 1 });
  const left = await everything(desk.records);
  for (const trace of TRACES) expect(left).not.toContain(trace);

  const kept = await desk.look((tx) => tx.conversation(id));
  expect(kept).toMatchObject({ guestMessages, openedAt, ending, phone: `forgotten-${id}` });
  const entries = await desk.look((tx) => tx.entries(id));
  expect(entries.filter((entry) => entry.who === 'guest')).toHaveLength(guestMessages);
  expect(entries.some((entry) => (entry.heard as { danger?: string } | null)?.danger === 'now')).toBe(true);
  expect((await desk.look((tx) => tx.callout(callout?.id ?? 0)))?.takenAt).toBe(callout?.takenAt);
  expect(await desk.records.viewTables(keepingNotes)).toMatchObject([{ what: 'forget', by: 'odalys', at: BY.at }]);
});

test('what was forgotten is not in the file any more either, once the desk is stopped', async () => {
  const desk = await nightDesk();
  await aFullNight(desk);
  await forget(desk.records, GUEST, BY);
  await desk.records.close();
  const bytes = readFileSync(join(desk.folder, 'nightbell.sqlite'), 'latin1');
  expect(bytes).toContain('Soledad Birchmoor');
  for (const trace of TRACES) expect(bytes).not.toContain(trace);
});

test('someone who may need help tonight is not forgotten: on a rental, or with an open callout', async () => {
  const desk = await nightDesk();
  await desk.text(GUEST, 'my wife has blue lips');
  const now = { by: 'odalys', at: NIGHT };
  await expect(forget(desk.records, GUEST, now)).rejects.toThrow(/on a rental up to 2026-11-28.*dispatcher/);
  await expect(forget(desk.records, GUEST, BY)).rejects.toThrow(/Callout 1 of this phone is still open/);
  expect((await conversationOf(desk, GUEST)).phone).toBe(GUEST);
});

test('of two phones of a rental one is forgotten; the other and the name stay', async () => {
  const desk = await nightDesk();
  const { rentalId } = (await desk.look((tx) => tx.staysOf(LOWEN, NIGHT)))[0] ?? expect.fail('no stay');
  await forget(desk.records, LOWEN, BY);
  expect(await desk.look((tx) => tx.phonesOf(rentalId))).toEqual([LOWENS_OTHER_PHONE]);
  expect(await desk.look((tx) => tx.stay(rentalId))).toMatchObject({ guestName: 'Lowen Marchbrook' });
});

test('a forgotten guest who writes again is a new guest', async () => {
  const desk = await nightDesk();
  await aFullNight(desk);
  const { id } = await conversationOf(desk, GUEST);
  await desk.setClock(BY.at);
  await forget(desk.records, GUEST, BY);
  expect(await desk.text(GUEST, 'hello?')).not.toBe('');
  expect((await conversationOf(desk, GUEST)).id).not.toBe(id);
});
