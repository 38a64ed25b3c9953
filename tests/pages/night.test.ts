import { expect, test } from 'vitest';
import { instantOf } from '../../src/time/instant.ts';
import { BRAM, GUEST, LOWEN, STRANGER, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { theOwner } from './visitor.ts';
import type { Shown } from './visitor.ts';

/** The lines of a night sheet as they are read, newest first. */
function linesOf({ html }: Shown): readonly string[] {
  const [, ledger = ''] = /<ol class="ledger">([^]*?)<\/ol>/.exec(html) ?? [];
  return [...ledger.matchAll(/<li>([^]*?)<\/li>/g)].map(([, line = '']) =>
    line
      .replaceAll(/<\/?(?:a|bdi|strong)\b[^>]*>/g, '')
      .replaceAll(/<[^>]*>/g, ' ')
      .replaceAll(/\s+/g, ' ')
      .trim(),
  );
}

async function aNight(): Promise<NightDesk> {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, "it won't stop beeping");
  await desk.text(GUEST, 'one long tone');
  await desk.text(GUEST, 'moved it to the other wall, just one short beep now');
  await desk.pass('PT20M');
  await desk.text(LOWEN, 'her lips are blue and she is hard to wake');
  await desk.text(BRAM, 'TAKE 1');
  await desk.pass('PT5M');
  await desk.text(STRANGER, 'el agua de la botella no burbujea nada esta noche');
  return desk;
}

test('the night says newest first when, who and where, what it was about, how it ended and who took it', async () => {
  const desk = await aNight();
  const [stranger, danger, outlet, ...more] = linesOf(await (await theOwner(desk)).get('/night'));
  expect(stranger).toMatch(
    /^02:35 water bottle — still open “el agua.* Guest not known, \(970\) 555-0199, place not known 1 message in 0 min, in Spanish$/,
  );
  expect(danger).toMatch(
    /^02:30 Danger .*emergency number “her lips are blue.* Lowen Marchbrook, Tarnhook Condominiums A2, unit .* 1 message in .*Callout 1: Bram Tiddlecote has it$/,
  );
  expect(outlet).toMatch(
    /^02:10 no power — settled by the guest “it won't.* Perrin Aldwick, Marlstone Lodge 204, unit NB-01 3 messages in 15 min$/,
  );
  expect(more).toEqual([]);
});

test('the night is narrowed by property, unit, matter, ending and words, and by nights', async () => {
  const desk = await aNight();
  const owner = await theOwner(desk);
  const form = await owner.get('/night');
  const option = (words: string): string =>
    new RegExp(`<option value="([^"]*)"[^>]*>${words}</option>`).exec(form.html)?.[1] ?? expect.fail(words);
  const found = async (query: Record<string, string>): Promise<number> =>
    linesOf(await owner.get(`/night?${new URLSearchParams(query).toString()}`)).length;
  expect(await found({ property: option('Tarnhook Condominiums') })).toBe(1);
  expect(await found({ property: option('Thistlemark Cabins') })).toBe(0);
  expect(await found({ unit: option('NB-01') })).toBe(1);
  expect(await found({ matter: option('danger') })).toBe(1);
  expect(await found({ ending: 'emergency' })).toBe(1);
  expect(await found({ ending: 'open' })).toBe(1);
  expect(await found({ ending: 'settled' })).toBe(1);
  expect(await found({ words: 'OTHER wall' })).toBe(1);
  expect(await found({ words: 'otherXwall' })).toBe(0);
  expect(await found({ words: '%' })).toBe(0);
  expect(await found({ words: '_' })).toBe(0);
  expect(await found({ from: '2026-11-20', to: '2026-11-23' })).toBe(0);
  expect(await found({ from: '2026-11-20', to: '2026-11-24' })).toBe(3);
  expect(await found({ night: 'never', property: '1', unit: '1-x', ending: 'x', matter: "'; --" })).toBe(3);
});

test('a long night goes on on further sheets, each conversation once', async () => {
  const desk = await nightDesk({ pages: true });
  for (let n = 0; n < 53; n += 1) await desk.text(`+1970555${String(2000 + n)}`, 'hello?');
  const owner = await theOwner(desk);
  const first = await owner.get('/night');
  const [, further = ''] = /href="([^"]*)">The next sheet/.exec(first.html) ?? [];
  const second = await owner.get(further.replaceAll('&amp;', '&'));
  const phones = [first, second].flatMap((sheet) => linesOf(sheet).map((line) => /555-\d{4}/.exec(line)?.[0]));
  expect([linesOf(first).length, linesOf(second).length, new Set(phones).size]).toEqual([50, 3, 53]);
  expect(second.html).not.toContain('The next sheet');
});

test('each night has its own sheet, from evening to evening, and a running one looks for news', async () => {
  const desk = await aNight();
  const owner = await theOwner(desk);
  expect((await owner.get('/night')).html).toContain('data-live="/night/live?"');
  await desk.setClock(instantOf('2026-11-25T18:00:00-07:00'));
  const evening = await owner.get('/night');
  expect(evening.words).toMatch(/The night of Wed 25 Nov to Thu 26 Nov.*Nothing is written here/);
  const [, before = ''] = /href="([^"]*)">The night before/.exec(evening.html) ?? [];
  const last = await owner.get(before);
  expect(linesOf(last).length).toBe(3);
  expect(last.html).not.toContain('data-live');
});

test('the part that looks for news is the same as the page’s own', async () => {
  const desk = await aNight();
  const owner = await theOwner(desk);
  const page = await owner.get('/night');
  const live = await owner.get('/night/live');
  expect(page.html).toContain(live.html);
  await desk.text('+19705550104', 'the alarm beeps');
  expect(linesOf(await owner.get('/night/live')).length).toBe(4);
});
