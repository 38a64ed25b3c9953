import { expect } from 'vitest';
import type { NightParts } from '../desk/night-desk.ts';
import { nightDesk } from '../desk/night-desk.ts';
import { Exchange } from './exchange.ts';
import type { Caller } from './exchange.ts';

/** The desk behind a provider that follows its documents. */
export async function callDesk(parts: NightParts = {}): Promise<Exchange> {
  return new Exchange(await nightDesk(parts));
}

/** Goes on: by the key where the desk waits for a word, else by silence. */
async function goOn(caller: Caller): Promise<void> {
  if (/Say next|Diga sigue/.test(caller.last)) await caller.press('1');
  else await caller.silent();
}

const MOST_PROMPTS = 6;

/** Listens to what goes on by itself or by a word, until the words fit or nobody listens any more. */
export async function listenFor(caller: Caller, words: RegExp): Promise<void> {
  for (let turns = 0; turns < MOST_PROMPTS && caller.at === 'listening' && !words.test(caller.last); turns += 1) {
    await goOn(caller);
  }
  expect(caller.last).toMatch(words);
}

/** Listens until the desk has the caller wait for a person. */
export async function untilWaiting(caller: Caller): Promise<void> {
  for (let turns = 0; turns < MOST_PROMPTS && caller.at === 'listening'; turns += 1) await goOn(caller);
  expect(caller.at, caller.last).toBe('waiting');
}
