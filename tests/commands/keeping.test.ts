import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { GUEST, LOWEN, NIGHT, nightDesk } from '../desk/night-desk.ts';
import { run } from './run.ts';

/** The demo's desk after a night, stopped; its records are in the folder. */
async function afterANight(): Promise<string> {
  const desk = await nightDesk();
  await desk.text(GUEST, '=HYPERLINK("http://x.example","thank you")');
  await desk.text(LOWEN, 'my husband has blue lips,\n"and" he is cold');
  await desk.records.close();
  return desk.folder;
}

const DAYS = ['--from', '2026-11-25', '--to', '2026-11-25'] as const;

test('conversations of some days are exported as JSON Lines and as CSV, and each export leaves a note', async () => {
  const folder = await afterANight();
  const { stdout } = await run('export', folder, ...DAYS);
  const lines = stdout
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Record<string, unknown>);
  expect(lines).toMatchObject([
    { phone: GUEST, guest: 'Perrin Aldwick', property: 'Marlstone Lodge', room: '204', unit: 'NB-01', openedAt: NIGHT },
    { phone: LOWEN, ending: 'emergency', callouts: [{ urgency: 'danger', status: 'ringing' }] },
  ]);
  const entries = lines[1]?.['entries'] as unknown[];
  expect(entries.slice(0, 2)).toMatchObject([
    { who: 'guest', words: 'my husband has blue lips,\n"and" he is cold', danger: 'now' },
    { who: 'desk', words: expect.stringMatching(/^Call 911 now/) },
  ]);

  const csv = await run('export', folder, ...DAYS, '--as', 'csv');
  const rows: Record<string, string>[] = parse(csv.stdout, { columns: true });
  const said = rows.filter((row) => row['who'] === 'guest');
  // What a spreadsheet would carry out is text in it.
  expect(said[0]?.['words']).toBe('\'=HYPERLINK("http://x.example","thank you")');
  expect(said[1]).toMatchObject({ words: 'my husband has blue lips,\n"and" he is cold', danger: 'now', room: 'A2' });

  const notes = await run('export', folder, '--notes');
  expect(notes.stdout.trim().split('\n')).toEqual([
    expect.stringMatching(/export +by \S+: from 2026-11-25, to 2026-11-25, as csv$/),
    expect.stringMatching(/export +by \S+: from 2026-11-25, to 2026-11-25, as jsonl$/),
  ]);
  expect((await run('export', folder, '--from', '2026-11-26', '--to', '2026-11-27')).stdout).toBe('');
});

test('a day that is none, or a span that is turned round, is refused before anything is opened', async () => {
  const bad = await run('export', '/nowhere', '--from', '2026-02-30', '--to', '2026-03-01');
  expect(bad).toMatchObject({ code: 1, stderr: expect.stringMatching(/--from 2026-02-30: give a day/) });
  const turned = await run('export', '/nowhere', '--from', '2026-03-02', '--to', '2026-03-01');
  expect(turned).toMatchObject({ code: 1, stderr: expect.stringMatching(/is before --from/) });
});

test('a backup is made, checked and restored by the command; what was there before is kept', async () => {
  const folder = await afterANight();
  const file = join(folder, 'kept.sqlite');
  expect((await run('backup', folder, file)).stdout).toMatch(
    /kept\.sqlite: 2 conversations, \d+ lines, 13 rentals, 1 open/,
  );
  const restored = await run('backup', folder, '--restore', file);
  expect(restored.stdout).toMatch(/^Restored: 2 conversations.*\nWhat was there before is kept as .*before-/);
  expect(restored.stdout).toMatch(/open callouts will ring when the desk starts/);
  const notes = await run('export', folder, '--notes');
  expect(notes.stdout).toMatch(/restore +by .*\n.*backup +by /);
  expect((await readFile(file)).length).toBeGreaterThan(0);
});

test('a number that is none, and one that a rental needs, are not forgotten', async () => {
  const folder = await afterANight();
  expect(await run('forget', folder, '555')).toMatchObject({
    code: 1,
    stderr: expect.stringMatching(/no phone number/),
  });
  const { stdout, stderr } = await run('forget', folder, '+19705550123');
  expect(stderr).toBe('');
  expect(stdout).toMatch(/^Forgotten: 0 conversations/);
});
