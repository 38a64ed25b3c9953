import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { takeUpFlows } from '../src/flow-watch.ts';
import type { FlowBook } from '../src/flow/book.ts';
import { FLOWS_DIRECTORY } from '../src/flow/load.ts';

/** The owner's copy of the flows, with one sentence or name changed. */
function edited(file: string, from: string, to: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'nightbell-flows-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  cpSync(FLOWS_DIRECTORY, folder, { recursive: true });
  const path = join(folder, file);
  const text = readFileSync(path, 'utf8');
  expect(text).toContain(from);
  writeFileSync(path, text.replaceAll(from, to));
  return folder;
}

async function takeUp(folder: string) {
  const taken: FlowBook[] = [];
  const result = await takeUpFlows(folder, async (book) => void taken.push(book));
  return { taken, result };
}

test('an edit that passes the check is taken up', { timeout: 120_000 }, async () => {
  const { taken, result } = await takeUp(edited('check-back.yaml', 'Rest well.', 'Sleep well.'));
  expect(result).toMatchObject({ taken: true });
  expect(JSON.stringify(taken)).toContain('Sleep well.');
});

test('an edit that names no step is refused, with file and line', async () => {
  const { taken, result } = await takeUp(edited('check-back.yaml', 'person.hand-over', 'person.nobody'));
  expect(taken).toEqual([]);
  expect(result).toMatchObject({
    taken: false,
    reason: expect.stringMatching(/check-back\.yaml:\d+:\d+: .*person\.nobody/),
  });
});

test('an edit that could hurt someone is refused, with the rule', { timeout: 120_000 }, async () => {
  const folder = edited('person.yaml', 'This is for a person.', 'Open the unit and look.');
  const { taken, result } = await takeUp(folder);
  expect(taken).toEqual([]);
  expect(result).toMatchObject({ taken: false, reason: expect.stringContaining('forbidden') });
});
