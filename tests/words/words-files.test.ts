import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { loadHearing } from '../../src/words/load.ts';

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'words-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});

function wordsOf(english: string, spanish = 'words:\n  denial: no\n'): string {
  for (const [language, source] of [
    ['en', english],
    ['es', spanish],
  ] as const) {
    mkdirSync(join(folder, language));
    writeFileSync(join(folder, language, 'own.yaml'), source);
  }
  return folder;
}

test('an owner adds words without code', () => {
  const hear = loadHearing(wordsOf('signs:\n  fire:\n    now: |\n      the (barn|shed) is ablaze\n'));
  expect(hear('the shed is ablaze')).toMatchObject({ danger: 'now', signs: ['fire'] });
});

test.each([
  [
    'signs:\n  fyre:\n    now: |\n      smoke\n',
    /en\/own\.yaml:4:7: above this line, "fyre" is no sign; allowed: breathing/,
  ],
  ['signs:\n  fire:\n    soon: |\n      smoke\n', /"soon" is no level; allowed: now/],
  ['topics:\n  no-pwr: |\n    dead\n', /en\/own\.yaml:3:5: .*"no-pwr" is no topic/],
  ['words:\n  a: |\n    one (two\n', /en\/own\.yaml:3:5: .*"\(" is never closed/],
  ['words:\n  a: |\n    one ..\n', /".." stands between words/],
  ['words:\n  a: |\n    <nowhere> one\n', /there is no set <nowhere>/],
  ['words: [\n', /this is not YAML/],
])('a broken words file is named with its place and what is allowed', (source, error) => {
  expect(() => loadHearing(wordsOf(source))).toThrow(error);
});
