import { expect, test } from 'vitest';
import { BRAM, GUEST, LOWEN, STRANGER, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { theOwner } from './visitor.ts';
import type { Shown } from './visitor.ts';

/** The rows of a table by its heading, as they are read; rows without a value left out. */
function rowsOf({ html }: Shown, title: string): readonly string[] {
  const figure = html.split('<figure>').find((each) => each.includes(`<figcaption>${title} `)) ?? expect.fail(title);
  return [...figure.matchAll(/<tr><td>([^<]*)<\/td><td class="figure">([^<]*)<\/td><\/tr>/g)]
    .map(([, label = '', value = '']) => `${label}: ${value}`)
    .filter((row) => !/: (–|0)$/.test(row));
}

async function aNight(): Promise<NightDesk> {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, "it won't stop beeping");
  await desk.text(GUEST, 'one long tone');
  await desk.text(GUEST, 'moved it to the outlet by the window, just one short beep now');
  await desk.pass('PT20M');
  await desk.text(LOWEN, 'her lips are blue and she is hard to wake');
  await desk.pass('PT3M');
  await desk.text(BRAM, 'TAKE 1');
  await desk.text(STRANGER, 'the water bottle is empty');
  await desk.report('reply=2', 'undelivered');
  return desk;
}

test('the numbers of the nights: each chart has its table, and each table its CSV', async () => {
  const desk = await aNight();
  const owner = await theOwner(desk);
  const shown = await owner.get('/numbers');
  expect(rowsOf(shown, 'Conversations')).toEqual(['Tue 24 Nov: 3']);
  // Two have ended; the one that was danger is not settled by the guest.
  expect(rowsOf(shown, 'Share settled by guests')).toEqual(['Tue 24 Nov: 50']);
  expect(rowsOf(shown, 'Guest messages to settle, median')).toEqual(['Tue 24 Nov: 3']);
  expect(rowsOf(shown, 'Time until a human took it, median')).toEqual(['Tue 24 Nov: 3']);
  expect(rowsOf(shown, 'Callouts by the hour they began')).toEqual(['02: 1']);
  expect(rowsOf(shown, 'Matters by unit')).toContain('NB-01: no power: 1');
  expect(rowsOf(shown, 'Texts that could not be delivered')).toEqual(['Tue 24 Nov: 1']);
  expect(shown.html.match(/<svg[^>]*class="chart"/g)).toHaveLength(9);
  const links = [...shown.html.matchAll(/href="(\/numbers\/[^"]*\.csv[^"]*)"/g)].map(([, to = '']) => to);
  expect(links).toHaveLength(9);
  for (const to of links) {
    const csv = await owner.once(to.replaceAll('&amp;', '&'));
    expect([to, csv.status, csv.headers.get('content-type')]).toEqual([to, 200, 'text/csv; charset=utf-8']);
    expect(csv.headers.get('content-disposition')).toMatch(/^attachment; filename="nightbell-[a-z-]+\.csv"$/);
  }
  const hours = await owner.once('/numbers/callouts-by-hour.csv');
  expect(hours.html.split('\r\n').filter((row) => row.endsWith(',1'))).toEqual(['02,1']);
  expect((await owner.get('/numbers/nothing.csv')).status).toBe(404);
});

test('a night without anything says so and draws nothing', async () => {
  const shown = await (await theOwner(await nightDesk({ pages: true }))).get('/numbers?nights=7');
  expect(shown.words.match(/Nothing of it in these nights\./g)).toHaveLength(9);
  expect(shown.html).not.toContain('<svg');
});

test.for([
  ['0.79', true],
  ['100', true],
  ['100.01', false],
  ['0', false],
  ['-1', false],
  ['1e1', false],
  ['<b>', false],
] as const)('a price of "%s" cents a text part is taken: %s', async ([cents, taken]) => {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, "it won't stop beeping");
  const shown = await (await theOwner(desk)).get(`/numbers?cents=${encodeURIComponent(cents)}`);
  expect(shown.words.includes('Cost of texts to guests (dollars)')).toBe(taken);
  expect(shown.words.includes(`${cents} came; allowed: a number above 0, up to 100 cents`)).toBe(!taken);
});

test('the price of the settings counts where none is written', async () => {
  const desk = await nightDesk({ pages: true, centsAPart: 0.8 });
  await desk.text(GUEST, 'thank you');
  const owner = await theOwner(desk);
  const shown = await owner.get('/numbers');
  expect(rowsOf(shown, 'Cost of texts to guests')).toEqual(['Tue 24 Nov: 0.02']);
  expect(shown.html).toContain('value="0.8"');
  expect(rowsOf(await owner.get('/numbers?cents=50'), 'Cost of texts to guests')).toEqual(['Tue 24 Nov: 1']);
});

test('names that a spreadsheet would take for formulas are words in the CSV', async () => {
  const desk = await aNight();
  await desk.records.onTables(async ({ db }) => {
    await db.updateTable('units').set({ tag: '=1+1,"x"' }).where('tag', '=', 'NB-01').execute();
  });
  const csv = await (await theOwner(desk)).once('/numbers/matters-by-unit.csv');
  expect(csv.html).toContain(`"'=1+1,""x"": no power",1`);
});
