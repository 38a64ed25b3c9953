import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { loadBook } from '../flow/load.ts';
import { ProblemsError } from '../reading/yaml.ts';
import { flowsOf } from '../flow/turn.ts';
import { instantOf } from '../time/instant.ts';
import { loadHearing } from '../words/load.ts';
import { openDemoDesk } from './demo-desk.ts';
import { deskDoor, webhookDoor } from './rehearsal/doors.ts';
import { chanceFrom } from './trials/chance.ts';
import { loadPhrasebooks } from './rehearsal/labelled.ts';
import { dangerTable, faultTable } from './rehearsal/many-table.ts';
import { playDangers, playMany } from './rehearsal/many.ts';
import type { Stage } from './rehearsal/many.ts';
import { play } from './rehearsal/play.ts';
import type { Played } from './rehearsal/play.ts';
import { playSeason } from './rehearsal/season/play.ts';
import { readSeason } from './rehearsal/season/read.ts';
import { saySeason } from './rehearsal/season/say.ts';
import { CONVERSATIONS, readScripts, writtenScript } from './rehearsal/script.ts';
import type { Beat, Script, ScriptFile } from './rehearsal/script.ts';

const USAGE = `npm run rehearse -- [--by desk|webhook] [--write] [FOLDER]
Plays the written conversations and says where a reply differs.
  --by webhook  through signed forms to a port of this machine, in place of the desk in process
  --write       keeps what was said now as what should be said
       npm run rehearse -- --many N [--seed S] [--dangers D]
Plays N made-up guests, their words drawn from the kept-aside messages, and D danger texts at every state (default 20);
prints both as tables. Ends with status 1 when a danger is missed.
       npm run rehearse -- --season FOLDER
Imports a made-up season (npm run season -- FOLDER) and plays every night of it; prints what came of it and what was
learned. Ends with status 1 when a wrong outlet was learned, or the unit that was made to fail is not the one that did most.`;

function whereOf(beat: Beat): string {
  if ('says' in beat) return `to "${beat.says}"`;
  if ('waits' in beat) return `after waiting ${beat.waits}`;
  if ('calls' in beat) return `to the call of ${beat.calls}`;
  if ('keys' in beat) return `to the keys ${beat.keys}`;
  return 'speech' in beat ? `to "${beat.speech}", spoken` : `as the caller ${beat.caller}`;
}

/** Where two plays of a script differ, one line each: what should have been, what came. */
function differences(expected: Script, came: Script): readonly string[] {
  const lines: string[] = [];
  const compare = (where: string, a: unknown, b: unknown): void => {
    if (JSON.stringify(a) !== JSON.stringify(b))
      lines.push(`${where}\n      should be  ${JSON.stringify(a)}\n      came       ${JSON.stringify(b)}`);
  };
  for (const [index, beat] of expected.beats.entries()) {
    const now = came.beats[index];
    const where = whereOf(beat);
    if ('hears' in beat && now !== undefined && 'hears' in now) {
      compare(`${where}, what is said`, beat.hears, now.hears);
      compare(`${where}, how the call goes on`, beat.goesOn ?? 'asked', now.goesOn ?? 'asked');
    }
    if ('says' in beat && now !== undefined && 'says' in now) compare(`${where}, the reply`, beat.reply, now.reply);
    compare(`${where}, sent to others`, beat.sent ?? [], now?.sent ?? []);
  }
  compare('the ending', expected.ends, came.ends);
  compare('the callouts', expected.callouts, came.callouts);
  return lines;
}

function row({ script, guestMessages }: Played, same: boolean): string {
  const columns = [same ? 'same' : 'DIFFERS', script.ends.padEnd(16), String(guestMessages).padStart(2)];
  return `${columns.join('  ')}  ${script.about}${script.callouts.length === 0 ? '' : `  [${script.callouts.join('; ')}]`}`;
}

async function rehearse(): Promise<number> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      by: { type: 'string', default: 'desk' },
      write: { type: 'boolean', default: false },
      many: { type: 'string' },
      seed: { type: 'string', default: '1' },
      dangers: { type: 'string', default: '20' },
      season: { type: 'string' },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help || !['desk', 'webhook'].includes(values.by)) {
    console.log(USAGE);
    return values.help ? 0 : 1;
  }
  if (values.many !== undefined) {
    const counts = { guests: wholeNumber('--many', values.many), dangers: wholeNumber('--dangers', values.dangers) };
    return rehearseMany(counts, wholeNumber('--seed', values.seed));
  }
  if (values.season !== undefined) return rehearseSeason(values.season);
  const folder = positionals[0] ?? CONVERSATIONS;
  const hear = loadHearing();
  const { book } = loadBook();
  let differing = 0;
  const scripts = readScripts(folder);
  for (const { file, script } of scripts) {
    const demo = await openDemoDesk({ hear, book, startsAt: instantOf(script.at) });
    const door = values.by === 'webhook' ? await webhookDoor(demo) : deskDoor(demo);
    try {
      const played = await play(demo, door, script, file);
      differing += report({ file, script }, played, values.write, folder);
    } finally {
      await door.close();
      await demo.close();
    }
  }
  console.log(`${scripts.length} conversations, ${differing} differ`);
  return differing === 0 || values.write ? 0 : 1;
}

/** @throws RangeError that says which option, what came and what is allowed. */
function wholeNumber(option: string, written: string): number {
  if (!/^\d{1,7}$/.test(written)) throw new RangeError(`${option} ${written}: write a whole number, as 20000`);
  return Number(written);
}

function rehearseMany(counts: { readonly guests: number; readonly dangers: number }, seed: number): number {
  const flows = flowsOf(loadBook().book);
  const stage: Stage = { hear: loadHearing(), flows, books: loadPhrasebooks(), chance: chanceFrom(seed) };
  console.log(faultTable(playMany(stage, counts.guests)));
  const dangers = playDangers(stage, counts.dangers);
  console.log(`\n${dangerTable(dangers)}`);
  const missed = dangers.filter((each) => each.how === 'missed');
  for (const { step, text } of missed.slice(0, 10)) console.log(`missed at ${step}: ${text}`);
  return missed.length === 0 ? 0 : 1;
}

async function rehearseSeason(folder: string): Promise<number> {
  const season = readSeason(folder);
  const stage = { hear: loadHearing(), book: loadBook().book, books: loadPhrasebooks() };
  const { lines, asItShould } = await playSeason(stage, season, (demo, outcomes) =>
    saySeason(season, demo, outcomes, stage.book),
  );
  for (const line of lines) console.log(line);
  return asItShould ? 0 : 1;
}

/** Says how a play went and, where wanted, keeps it. Returns 1 when it differs. */
function report({ file, script }: ScriptFile, played: Played, write: boolean, folder: string): number {
  const found = differences(script, played.script);
  console.log(row(played, found.length === 0));
  if (found.length === 0) return 0;
  if (write) writeFileSync(join(folder, file), writtenScript(played.script));
  else for (const line of found) console.log(`    ${file}: ${line}`);
  return 1;
}

try {
  process.exitCode = await rehearse();
} catch (error) {
  if (!(error instanceof ProblemsError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
