import { expect, test } from 'vitest';
import { keepingNotes } from '../../src/records/keeping-notes.ts';
import { after } from '../../src/time/instant.ts';
import { BRAM, GUEST, LOWEN, NIGHT, conversationOf, nightDesk } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

const [TOBIN, BRIAR] = ['+19705550103', '+19705550108'] as const;
const notesOf = (desk: NightDesk) => desk.records.viewTables(keepingNotes);
const wordsOf = async (desk: NightDesk, id: number): Promise<string> =>
  (await desk.look((tx) => tx.entries(id))).map((entry) => entry.words).join('');

/** Conversations that end on the first night, and one with a callout that is taken and never closed. */
async function firstNight(desk: NightDesk): Promise<{ settled: number; open: number }> {
  await desk.text(GUEST, 'thank you for the marmalade');
  await desk.text(BRIAR, 'STOP');
  await desk.text(LOWEN, 'I want to talk to a person');
  await desk.text(BRAM, 'take');
  const ids = [(await conversationOf(desk, GUEST)).id, (await conversationOf(desk, LOWEN)).id];
  return { settled: ids[0] ?? 0, open: ids[1] ?? 0 };
}

test('what is older than the setting is forgotten at night, with a note; what is needed still is not', async () => {
  const desk = await nightDesk({ keepWordsDays: 10 });
  const { settled, open } = await firstNight(desk);
  await desk.setClock(after(NIGHT, 'PT240H'));
  await desk.pass('PT24H');
  expect(await wordsOf(desk, settled)).toContain('marmalade');
  // Of Anselm Greyfold, who had left the day before the first night, ten days are over.
  expect(await notesOf(desk)).toMatchObject([{ details: { before: '2026-11-25', conversations: 0, rentals: 1 } }]);

  await desk.pass('PT24H');
  expect(await wordsOf(desk, settled)).toBe('');
  expect(await wordsOf(desk, open)).toContain('talk to a person');
  const [note, ...more] = await notesOf(desk);
  expect(note).toMatchObject({ what: 'retention', by: expect.stringContaining('KEEP_WORDS_DAYS') });
  expect(note?.details).toMatchObject({ before: '2026-11-26', conversations: 1 });
  expect(more).toHaveLength(1);

  // A rental keeps its name until it has been over for as long; a phone that wants no texts stays known.
  expect(await desk.look((tx) => tx.staysOf(GUEST, NIGHT))).toMatchObject([{ guestName: 'Perrin Aldwick' }]);
  expect((await desk.look((tx) => tx.staysOf(TOBIN, NIGHT))).length).toBe(1);
  await desk.setClock(after(NIGHT, 'PT720H'));
  await desk.pass('PT24H');
  expect(await desk.look((tx) => tx.staysOf(GUEST, NIGHT))).toEqual([]);
  const briar = await desk.records.transaction((tx) => tx.lockPhone(BRIAR));
  expect(briar.optedOutAt).toBe(NIGHT);

  // Once the callout is closed, nothing keeps the last words.
  await desk.text(BRAM, 'done all well');
  await desk.pass('PT48H');
  expect(await wordsOf(desk, open)).toBe('');
});

test('without the setting nothing is ever forgotten', async () => {
  const desk = await nightDesk();
  const { settled } = await firstNight(desk);
  await desk.setClock(after(NIGHT, 'PT720H'));
  await desk.pass('PT24H');
  expect(await wordsOf(desk, settled)).toContain('marmalade');
  expect(await notesOf(desk)).toEqual([]);
});
