import { expect, test } from 'vitest';
import { BRAM, GUEST, INES, NIGHT, nightDesk, openCalloutsOf } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { Visitor, linkTo, theOwner } from './visitor.ts';

const DANGER = 'my husbands lips are blue and hes breathing funny';

async function inDanger(): Promise<NightDesk> {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, DANGER);
  return desk;
}

test('the text that rings a technician fits two parts with its link, and the link shows the callout without a password', async () => {
  const desk = await inDanger();
  expect(desk.carrier.textsTo(BRAM).at(-1)).toMatch(
    /^DANGER: .* TAKE 1 or PASS 1\. https:\/\/desk\.example\.com\/c\//s,
  );
  const bram = new Visitor(desk);
  const page = await bram.get(linkTo(desk));
  expect(page.words).toMatch(/Callout 1, for Bram Tiddlecote.*Nobody has it yet.*Marlstone Lodge.*lips are blue/s);
  expect(page.html).toMatch(/href="tel:\+19705550101"/);
});

test('opening the link, even often and as previews do, changes nothing', async () => {
  const desk = await inDanger();
  const link = linkTo(desk);
  const before = await desk.records.viewTables(async ({ db }) => ({
    callouts: await db.selectFrom('callouts').selectAll().execute(),
    entries: await db.selectFrom('entries').selectAll().execute(),
    work: await db.selectFrom('work').selectAll().execute(),
    links: await db.selectFrom('callout_links').selectAll().execute(),
  }));
  const preview = new Visitor(desk);
  for (const path of [link, `${link}/live`, `${link}?deed=take`, link])
    expect((await preview.get(path)).status).toBe(200);
  expect((await preview.once(link, { method: 'HEAD' })).status).toBe(200);
  const after = await desk.records.viewTables(async ({ db }) => ({
    callouts: await db.selectFrom('callouts').selectAll().execute(),
    entries: await db.selectFrom('entries').selectAll().execute(),
    work: await db.selectFrom('work').selectAll().execute(),
    links: await db.selectFrom('callout_links').selectAll().execute(),
  }));
  expect(after).toEqual(before);
});

test('TAKE, TELL and DONE go by buttons; the guest is told who comes, and the note is kept', async () => {
  const desk = await inDanger();
  const bram = new Visitor(desk);
  const taken = await bram.send(await bram.get(linkTo(desk)), 'TAKE');
  await desk.doDue();
  expect(taken.words).toMatch(/Callout 1 is yours.*It is yours since 02:10/s);
  expect(desk.carrier.textsTo(GUEST).at(-1)).toMatch(/^Bram has your case now/);

  expect(taken.words).toContain('The guest writes English');
  await bram.send(taken, 'TELL', { words: 'Ten minutes. Unlock the door.' });
  await desk.doDue();
  expect(desk.carrier.textsTo(GUEST).at(-1)).toBe('Bram: Ten minutes. Unlock the door.');

  const done = await bram.send(await bram.get(linkTo(desk)), 'DONE', { words: 'Ambulance took him down.' });
  expect(done.words).toMatch(/It is closed, Bram Tiddlecote had it.*Ambulance took him down\./s);
  expect(await openCalloutsOf(desk, GUEST)).toEqual([]);
});

test('a press sent twice by a bad line counts once', async () => {
  const desk = await inDanger();
  const bram = new Visitor(desk);
  const taken = await bram.send(await bram.get(linkTo(desk)), 'TAKE');
  await bram.send(taken, 'TELL', { words: 'Ten minutes.' });
  await bram.send(taken, 'TELL', { words: 'Ten minutes.' });
  await desk.doDue();
  expect(desk.carrier.textsTo(GUEST).filter((text) => text === 'Bram: Ten minutes.')).toHaveLength(1);
});

test('PASS rings the next person; TAKE still works for the one who passed', async () => {
  const desk = await inDanger();
  const bram = new Visitor(desk);
  const passed = await bram.send(await bram.get(linkTo(desk)), 'PASS');
  expect(passed.words).toContain('You passed it on');
  await desk.pass('PT1M');
  expect(linkTo(desk, INES)).not.toBe(linkTo(desk));
  const back = await bram.send(passed, 'TAKE');
  expect(back.words).toContain('It is yours');
});

test('once another has it, a link tells who and nothing of the guest; when it is passed on it opens again', async () => {
  const desk = await inDanger();
  await desk.pass('PT3M');
  const [bram, ines] = [new Visitor(desk), new Visitor(desk)];
  const [toBram, toInes] = [linkTo(desk, BRAM), linkTo(desk, INES)];
  const stale = await bram.get(toBram);
  const taken = await ines.send(await ines.get(toInes), 'TAKE');
  const late = await bram.send(stale, 'TAKE');
  expect(late.words).toMatch(/Callout 1 was taken by Ines.*Ines Quarrow has it/s);
  expect((await bram.get(toBram)).words).not.toMatch(/lips|0101|Perrin|Marlstone/);
  await ines.send(taken, 'PASS');
  expect((await bram.get(toBram)).words).toMatch(/Nobody has it yet.*lips are blue/s);
});

test('a link ends after the night, and when the owner ends it; a later text brings a new one', async () => {
  const desk = await inDanger();
  const bram = new Visitor(desk);
  const first = linkTo(desk);
  const owner = await theOwner(desk);
  const night = await owner.get('/night');
  const [, sheet = ''] = /href="(\/night\/\d[^"]*)"/.exec(night.html) ?? [];
  await owner.send(await owner.get(sheet), 'End the links');
  const ended = await bram.get(first);
  expect([ended.status, ended.words]).toEqual([
    410,
    expect.stringMatching(/no longer opens.*reply TAKE 1.*\(970\) 555-0190/s),
  ]);
  expect(ended.words).not.toMatch(/lips|Perrin|Marlstone/);
  await desk.pass('PT2M');
  expect(linkTo(desk)).not.toBe(first);
  expect((await bram.get(linkTo(desk))).status).toBe(200);
  await bram.send(await bram.get(linkTo(desk)), 'TAKE');
  await desk.pass('PT17H');
  expect((await bram.get(linkTo(desk))).status).toBe(410);
});

test('a link that never was, and one cut short, say how to go on', async () => {
  const desk = await inDanger();
  const page = await new Visitor(desk).get(linkTo(desk).slice(0, -1));
  expect([page.status, page.words]).toEqual([404, expect.stringMatching(/not known here.*\(970\) 555-0190/s)]);
  expect(desk.now()).toBe(NIGHT);
});
