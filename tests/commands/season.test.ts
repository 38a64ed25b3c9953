import { execFile } from 'node:child_process';
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, test } from 'vitest';
import { loadPhrasebooks } from '../../src/commands/rehearsal/labelled.ts';
import { playSeason } from '../../src/commands/rehearsal/season/play.ts';
import { readSeason } from '../../src/commands/rehearsal/season/read.ts';
import { saySeason } from '../../src/commands/rehearsal/season/say.ts';
import { loadBook } from '../../src/flow/load.ts';
import { loadHearing } from '../../src/words/load.ts';
import { ownFolder } from '../carrier/desk-on-a-port.ts';

const run = promisify(execFile);

async function seasonOf(seed: number): Promise<string> {
  const folder = await ownFolder();
  await run(process.execPath, ['fixtures/season/make.ts', '--seed', String(seed), folder]);
  return folder;
}

const linesIn = async (folder: string, file: string): Promise<number> =>
  (await readFile(join(folder, file), 'utf8')).trim().split('\n').length;

test('a season has 400 rentals, 60 units and 30 properties, and the same seed makes the same one', async () => {
  const [folder, again, other] = [await seasonOf(1), await seasonOf(1), await seasonOf(2)];
  const rows = await Promise.all(['rentals.csv', 'units.csv', 'properties.csv'].map((file) => linesIn(folder, file)));
  expect(rows).toEqual([401, 61, 31]);
  for (const file of await readdir(folder)) {
    const text = await readFile(join(folder, file), 'utf8');
    expect(await readFile(join(again, file), 'utf8'), file).toBe(text);
  }
  expect(await readFile(join(other, 'rentals.csv'), 'utf8')).not.toBe(
    await readFile(join(folder, 'rentals.csv'), 'utf8'),
  );
  expect(await readFile(join(folder, 'rentals.csv'), 'utf8')).not.toMatch(/\d{3}\) 555-0[^1]/);
});

test('its first nights, played: it is imported, rooms with a switched outlet are learned, the failing unit stands out', async () => {
  const season = readSeason(await seasonOf(1));
  const nights = 7;
  const faults = season.faults.filter(({ at }) => at < '2026-12-08T12');
  const short = { ...season, faults, truth: { ...season.truth, nights } };
  const stage = { hear: loadHearing(), book: loadBook().book, books: loadPhrasebooks() };
  const { lines, asItShould } = await playSeason(stage, short, (demo, outcomes) =>
    saySeason(short, demo, outcomes, stage.book),
  );
  expect(faults.length).toBeGreaterThan(5);
  expect(lines[0]).toBe(`7 nights, ${faults.length} matters.`);
  expect(lines.join('\n')).toMatch(/Units by faults, the worst first: NB-37/);
  expect(asItShould).toBe(true);
}, 120_000);
