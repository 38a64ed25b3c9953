import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { chanceFrom } from '../../src/commands/rehearsal/guest.ts';
import { loadPhrasebooks } from '../../src/commands/rehearsal/labelled.ts';
import { playDangers, playMany } from '../../src/commands/rehearsal/many.ts';
import type { Phrasebook } from '../../src/commands/rehearsal/labelled.ts';
import { loadBook } from '../../src/flow/load.ts';
import { flowsOf } from '../../src/flow/turn.ts';
import { loadHearing } from '../../src/words/load.ts';

const WORDS = join(import.meta.dirname, '../../flows/words');
const flows = flowsOf(loadBook().book);
const books = loadPhrasebooks();

/** Guests whose only danger text is this one, in each language's way. */
function withDanger(en: string, es: string): typeof books {
  const only = (book: Phrasebook, text: string): Phrasebook => ({ ...book, dangers: [text] });
  return { en: only(books.en, en), es: only(books.es, es) };
}

/** A copy of the words in which no English line has the letters of a word. */
function wordsWithout(letters: RegExp): string {
  const folder = mkdtempSync(join(tmpdir(), 'nightbell-words-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  cpSync(WORDS, folder, { recursive: true });
  for (const file of readdirSync(join(folder, 'en'))) {
    const path = join(folder, 'en', file);
    // The second reader has learned the word from labelled messages: it must be deaf to it too.
    if (file.endsWith('.weights')) rmSync(path);
    if (!file.endsWith('.yaml')) continue;
    writeFileSync(path, readFileSync(path, 'utf8').replace(letters, 'zzzz'));
  }
  return folder;
}

test('a danger text at any state is answered with the emergency reply or the danger questions', () => {
  const dangers = withDanger('my wife cannot breathe', 'mi esposa no puede respirar');
  const played = playDangers({ hear: loadHearing(), flows, books: dangers, chance: chanceFrom(3) }, 1);
  expect(new Set(played.map(({ step }) => step)).size).toBeGreaterThan(100);
  expect(played.filter(({ how }) => how === 'missed')).toEqual([]);
});

test('a danger word that the desk does not know is counted as missed', () => {
  const dangers = withDanger('her lips are blue', 'sus labios están azules');
  const heard = playDangers({ hear: loadHearing(), flows, books: dangers, chance: chanceFrom(3) }, 1);
  expect(heard.filter(({ how }) => how === 'missed')).toEqual([]);
  const deaf = loadHearing(wordsWithout(/blue|lips?/g));
  const unheard = playDangers({ hear: deaf, flows, books: dangers, chance: chanceFrom(3) }, 1);
  expect(unheard.some(({ how, text }) => how === 'missed' && text === 'her lips are blue')).toBe(true);
});

test('the same seed plays the same guests, another seed others', () => {
  const hear = loadHearing();
  const play = (seed: number) => playMany({ hear, flows, books, chance: chanceFrom(seed) }, 60);
  expect(play(7)).toEqual(play(7));
  expect(play(7)).not.toEqual(play(8));
});
