import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { expect, test } from 'vitest';
import type { Labelled } from '../../src/words/measuring/labelled.ts';
import { BRAM, GUEST, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { theOwner } from './visitor.ts';
import type { Shown, Visitor } from './visitor.ts';

const run = promisify(execFile);

async function sheetOf(owner: Visitor): Promise<Shown> {
  const night = await owner.get('/night');
  const [, path = ''] = /href="(\/night\/\d[^"]*)"/.exec(night.html) ?? [];
  return owner.get(path);
}

/** What `npm run export -- --marked` prints about the desk's records. */
async function exported(desk: NightDesk): Promise<readonly Labelled[]> {
  // The file as it is, without a carrier: the command would load the demo's scenario into it, which is there already.
  const env = { PATH: process.env['PATH'], DATA_DIR: desk.folder };
  const { stdout } = await run(process.execPath, ['src/commands/export.ts', '--marked'], { env });
  return stdout
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Labelled);
}

test('a call sheet holds every line with its time, what was heard by which words, the step, and whom the desk tried', async () => {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, "it won't stop beeping");
  await desk.text(GUEST, 'a constant tone. my wife is so short of breath now');
  await desk.pass('PT1M');
  await desk.text(BRAM, 'TAKE 1');
  await desk.report('reply=2', 'delivered');
  await desk.text(BRAM, 'TELL 1 Five minutes.');
  const sheet = await sheetOf(await theOwner(desk));
  expect(sheet.words).toMatch(
    /Guest Perrin Aldwick, \(970\) 555-0101 Where Marlstone Lodge, room 204 Unit NB-01 Language English/,
  );
  expect(sheet.words).toMatch(/02:10 Guest.* it won't stop beeping Heard: topic/);
  expect(sheet.words).toMatch(/Danger Heard: danger now \(breathing\).*by “[^”]*short of breath[^”]*”/);
  expect(sheet.html).toMatch(/<mark>[^<]*short of breath[^<]*<\/mark>/);
  expect(sheet.words).toMatch(/Desk .*— delivered/);
  expect(sheet.words).toMatch(
    /Bram Tiddlecote by text .*Bram Tiddlecote by call.*texting Bram Tiddlecote.*calling Bram Tiddlecote/,
  );
  expect(sheet.words).toMatch(/technician TAKE 1|technician TAKE/);
  expect(sheet.words).toMatch(/Callout 1: Bram Tiddlecote has it.*Taken 02:11, after 1 min/);
});

test('the path through the flows stands beside the ledger, and the steps it took are marked by their outline', async () => {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, "it won't stop beeping");
  await desk.text(GUEST, 'one long tone');
  const sheet = await sheetOf(await theOwner(desk));
  expect(sheet.words).toMatch(/The path opening\.arrived → power\.listen-at-the-switch → power\.other-wall/);
  expect(sheet.html).toMatch(/<svg role="img" aria-label="The chart of power"/);
  expect(sheet.html.match(/class="node walked"/g)?.length).toBeGreaterThanOrEqual(2);
});

test('a line marked as heard wrong is exported as a labelled message, without numbers and names', async () => {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, "it won't stop beeping");
  await desk.text(GUEST, 'Perrin here, call bram or (970) 555-0101, p.aldwick@mail.example. its the lng toone');
  const owner = await theOwner(desk);
  const sheet = await sheetOf(owner);
  const marked = await owner.send(sheet, /Answer to the question, switch on sound/, {
    danger: 'none',
    answer: 'continuous-tone',
  });
  expect(marked.words).toContain('Marked as heard wrong');
  const [message, ...more] = await exported(desk);
  expect(more).toEqual([]);
  expect(message).toEqual({
    id: expect.stringMatching(/^marked-\d+$/),
    text: '[name] here, call [name] or [number], [address] its the lng toone',
    lang: 'en',
    asked: 'switch-on-sound',
    choices: expect.arrayContaining(['short-beep', 'continuous-tone']),
    expect: { danger: 'none', signs: [], topic: expect.anything(), answer: 'continuous-tone' },
  });

  await owner.send(marked, /It was heard right/, { undo: 'yes' });
  expect(await exported(desk)).toEqual([]);
});

test('a mark names only what can be heard, on a line of that conversation', async () => {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, "it won't stop beeping");
  await desk.text(GUEST, 'the lng toone');
  const owner = await theOwner(desk);
  const sheet = await sheetOf(owner);
  const wrong = await owner.send(sheet, /switch on sound/, { answer: '=HYPERLINK("http://x")' });
  expect([wrong.status, wrong.words]).toEqual([400, expect.stringContaining('none that the question could have')]);
  expect((await owner.send(sheet, /switch on sound/, { danger: 'much' })).status).toBe(400);
  expect((await owner.send(sheet, /switch on sound/, { entry: '1-x' })).status).toBe(404);
  expect((await sheetOf(owner)).words).not.toContain('Marked as heard wrong');
});
