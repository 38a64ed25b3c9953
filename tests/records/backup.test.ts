import { readFileSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { backUp, checkBackup, restore } from '../../src/records/backup.ts';
import { openRecords } from '../../src/records/open.ts';
import type { OpenRecords } from '../../src/records/open.ts';
import { GUEST, take } from './a-night.ts';
import { freshSqlite } from './places.ts';

interface Place {
  readonly folder: string;
  readonly file: string;
  readonly backup: string;
  readonly records: OpenRecords;
}

async function running(): Promise<Place> {
  const place = await freshSqlite();
  const { file } = place;
  const records = await openRecords({ sqliteFile: file });
  onTestFinished(async () => {
    await records.close();
    await place.remove();
  });
  const folder = join(file, '..');
  return { folder, file, backup: join(folder, 'kept.sqlite'), records };
}

const text = (records: OpenRecords, id: number): Promise<string | null> =>
  records.shared((tx) => take(tx, `SM${id}`, GUEST, `words ${id}`));
const wordsIn = (records: OpenRecords): Promise<readonly string[]> =>
  records.read(async (tx) => {
    const conversation = await tx.latestConversation(GUEST);
    return (await tx.entries(conversation?.id ?? 0)).filter((entry) => entry.who === 'guest').map(({ words }) => words);
  });

test('records are copied while texts come in, and restored to one state that they were in', async () => {
  const { file, backup, records } = await running();
  const coming = Array.from({ length: 60 }, (_, id) => text(records, id));
  await coming[20];
  const contents = backUp(file, backup);
  expect(statSync(backup).mode & 0o777).toBe(0o600);
  await Promise.all(coming);
  await text(records, 60);
  expect(await wordsIn(records)).toHaveLength(61);
  await records.close();

  const kept = restore(backup, file, 'now');
  const restored = await openRecords({ sqliteFile: file });
  onTestFinished(() => restored.close());
  const words = await wordsIn(restored);
  // All up to some text, and none after it.
  expect(words).toEqual(Array.from({ length: words.length }, (_, id) => `words ${id}`));
  expect(words.length).toBeGreaterThan(20);
  expect(words.length).toBeLessThan(61);
  expect(contents.entries).toBe(words.length * 2);
  // It goes on from there: a text that was answered in the copy is not answered anew, a new one is.
  expect(await text(restored, 3)).toBe('reply 4 to SM3');
  expect(await text(restored, 70)).toBe(`reply ${words.length + 1} to SM70`);
  expect(kept).toBe(`${file}.before-now`);
  expect(checkBackup(kept ?? '').entries).toBe(122);
});

test('while a desk has the records open, nothing is restored over them', async () => {
  const { file, backup, records } = await running();
  await text(records, 1);
  backUp(file, backup);
  await text(records, 2);
  expect(() => restore(backup, file, 'now')).toThrow(/in use.*Stop the desk first/);
  expect(await wordsIn(records)).toEqual(['words 1', 'words 2']);
  expect(await text(records, 3)).toBe('reply 3 to SM3');
});

test('a torn or foreign file is no backup, and what stands stays', async () => {
  const { folder, file, backup, records } = await running();
  for (let id = 0; id < 40; id += 1) await text(records, id);
  backUp(file, backup);
  await records.close();
  const before = readFileSync(file);

  const whole = readFileSync(backup);
  const torn = join(folder, 'torn.sqlite');
  writeFileSync(torn, whole.subarray(0, whole.length - 8192));
  const bent = join(folder, 'bent.sqlite');
  const twisted = Buffer.from(whole);
  // In the middle, where tables are, not in a page that nothing uses.
  twisted.fill(0x5a, Math.floor(whole.length / 2), Math.floor(whole.length / 2) + 4096);
  writeFileSync(bent, twisted);
  const foreign = join(folder, 'foreign.sqlite');
  writeFileSync(foreign, 'a shopping list');
  for (const bad of [torn, bent, foreign]) {
    expect(() => restore(bad, file, 'now')).toThrow(/is no whole backup of Nightbell/);
  }
  expect(() => restore(join(folder, 'nowhere'), file, 'now')).toThrow(/there is no file/);
  expect(readFileSync(file).equals(before)).toBe(true);
});

test('a backup overwrites nothing and leaves nothing half done', async () => {
  const { folder, file, backup, records } = await running();
  await text(records, 1);
  writeFileSync(backup, 'something of value');
  expect(() => backUp(file, backup)).toThrow(/is there already/);
  expect(readFileSync(backup, 'utf8')).toBe('something of value');
  expect(() => backUp(file, join(folder, 'no-such-folder', 'x.sqlite'))).toThrow();
  expect(readdirSync(folder).filter((name) => name.includes('unfinished'))).toEqual([]);
});
