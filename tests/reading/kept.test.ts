import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { hashOf } from '../../src/flow/book.ts';
import { loadBook, loadBookToUse } from '../../src/flow/load.ts';
import { kept, type Origins } from '../../src/reading/kept.ts';
import { loadHearing } from '../../src/words/load.ts';

const KEPT = fileURLToPath(new URL('../../node_modules/.cache/nightbell', import.meta.url));
const WORDS = fileURLToPath(new URL('../../flows/words', import.meta.url));
const NAME = 'of-a-test';

const of = (...sources: string[]): Origins => ({ sources, rooms: ['words'] });
const filesOfTest = (): string[] => readdirSync(KEPT).filter((file) => file.startsWith(`${NAME}-`));
const clean = (): void => {
  kept(NAME, of(), () => null);
  for (const file of filesOfTest()) rmSync(join(KEPT, file));
};

beforeEach(clean);
afterAll(clean);

describe('what is kept between runs', () => {
  it('is made once for the same sources', () => {
    let made = 0;
    const make = () => ({ words: new Map([['ball', (made += 1)]]), places: Int32Array.of(3, 5) });
    expect(kept(NAME, of('one'), make)).toEqual({ words: new Map([['ball', 1]]), places: Int32Array.of(3, 5) });
    expect(kept(NAME, of('one'), make)).toEqual({ words: new Map([['ball', 1]]), places: Int32Array.of(3, 5) });
  });

  it('is made anew when a source changes, and the old ones go', () => {
    kept(NAME, of('one', 'two'), () => 'first');
    expect(kept(NAME, of('onet', 'wo'), () => 'second')).toBe('second');
    expect(filesOfTest()).toHaveLength(1);
  });

  it('is made anew when the file was cut short', () => {
    kept(NAME, of('one'), () => ['whole']);
    const [file = expect.fail('nothing was kept')] = filesOfTest();
    writeFileSync(join(KEPT, file), readFileSync(join(KEPT, file)).subarray(0, 5));
    expect(kept(NAME, of('one'), () => ['again'])).toEqual(['again']);
  });

  it('is the book as it is read from the files', () => {
    expect(loadBookToUse()).toEqual(loadBook().book);
    expect(hashOf(loadBookToUse())).toBe(hashOf(loadBook().book));
  });

  it('hears as words that were just compiled', () => {
    const folder = mkdtempSync(join(tmpdir(), 'nightbell-words-'));
    cpSync(WORDS, folder, { recursive: true });
    const compiled = loadHearing(folder);
    loadHearing();
    const read = loadHearing();
    for (const text of [
      'the bal is at the botom and it beeeps',
      'grandma wont wake up',
      'se le acabó el awa al frasco',
      'cantbreathe at 4 and a half',
    ]) {
      expect(read(text)).toEqual(compiled(text));
    }
    rmSync(folder, { recursive: true });
  });
});
