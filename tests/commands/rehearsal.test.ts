import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { openDemoDesk } from '../../src/commands/demo-desk.ts';
import { deskDoor, webhookDoor } from '../../src/commands/rehearsal/doors.ts';
import { play } from '../../src/commands/rehearsal/play.ts';
import { CONVERSATIONS, readScripts } from '../../src/commands/rehearsal/script.ts';
import { instantOf } from '../../src/time/instant.ts';
import { chanceFrom } from '../../src/commands/trials/chance.ts';
import { loadPhrasebooks } from '../../src/commands/rehearsal/labelled.ts';
import { playDangers, playMany } from '../../src/commands/rehearsal/many.ts';
import type { Phrasebook } from '../../src/commands/rehearsal/labelled.ts';
import { loadBook } from '../../src/flow/load.ts';
import { flowsOf } from '../../src/flow/turn.ts';
import { loadHearing } from '../../src/words/load.ts';

const WORDS = join(import.meta.dirname, '../../flows/words');
const { book } = loadBook();
const flows = flowsOf(book);
const hear = loadHearing();
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

/** A written call in a folder of its own. */
function written(...beats: readonly string[]): string {
  const folder = mkdtempSync(join(tmpdir(), 'nightbell-scripts-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const head = ['about: a call', 'as: "+19705550101"', 'at: 2026-11-25T02:10:00-07:00', 'beats:'];
  const lines = [...head, ...beats.map((beat) => `  - ${beat}`), 'ends: open', 'callouts: []'];
  writeFileSync(join(folder, '1.yaml'), lines.join('\n'));
  return folder;
}

test('keys that nobody is on the phone to press are said with their line', () => {
  const call = '{ calls: "+19705550101", hears: [] }';
  const keys = '{ keys: "1", hears: [] }';
  expect(readScripts(written(call, keys))).toHaveLength(1);
  expect(() => readScripts(written('{ says: hello, reply: null }', keys))).toThrow(
    /1\.yaml:6:.*nobody is on the phone/,
  );
  expect(() => readScripts(written(call, '{ caller: hangs up, hears: [] }', keys))).toThrow(/1\.yaml:7:/);
});

test('a call is the same in process and through the webhooks, and reaches the desk as it was written', async () => {
  const scripts = readScripts(CONVERSATIONS).filter(({ script }) => script.beats.some((beat) => 'calls' in beat));
  expect(scripts.length).toBeGreaterThanOrEqual(4);
  for (const { file, script } of scripts) {
    for (const doorOf of [deskDoor, webhookDoor]) {
      const demo = await openDemoDesk({ hear, book, startsAt: instantOf(script.at) });
      const door = await doorOf(demo);
      onTestFinished(() => door.close().then(() => demo.close()));
      expect((await play(demo, door, script, file)).script).toEqual(script);
    }
  }
});

test('the same seed plays the same guests, another seed others', () => {
  const play = (seed: number) => playMany({ hear, flows, books, chance: chanceFrom(seed) }, 60);
  expect(play(7)).toEqual(play(7));
  expect(play(7)).not.toEqual(play(8));
});
