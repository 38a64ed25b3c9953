import { expect, test } from 'vitest';
import { instantOf } from '../../src/time/instant.ts';
import { BRAM, INES, ODALYS, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { signedIn, theOwner } from './visitor.ts';
import type { Shown } from './visitor.ts';

/** What the roster says of a night at midnight, with its swaps and buttons. */
function nightOf({ html }: Shown, day: string): string {
  const [, line = ''] = new RegExp(`<li id="night-${day}">([^]*?)</li>`).exec(html) ?? [];
  return line
    .replaceAll(/<input[^>]*>/g, '')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim();
}

/** First tap: the link of a night. */
const tapped = (day: string): string => `/roster?night=${day}`;

const swaps = (desk: NightDesk): Promise<readonly string[]> =>
  desk.records.viewTables(async ({ db }) =>
    (await db.selectFrom('swaps').select('day').orderBy('day').execute()).map(({ day }) => day),
  );

test('tonight’s order is told hour by hour, and the night that runs at ten past two is that of the evening before', async () => {
  const shown = await (await theOwner(await nightDesk({ pages: true }))).get('/roster');
  expect(shown.words).toContain('Tonight, Tue 24 Nov: who is tried, in order');
  expect(shown.words).toMatch(
    /18:00–20:00 Ines Quarrow, then Odalys Fenwright 20:00–08:00 Bram Tiddlecote, then Ines Quarrow, then Odalys Fenwright — now 08:00–10:00 Ines Quarrow, then Odalys Fenwright/,
  );
  expect(shown.words).toContain('No gaps and no overlaps in these seven nights.');
  expect(nightOf(shown, '2026-11-27')).toMatch(/^Fri 27 Nov Ines Quarrow, then Bram Tiddlecote, then Odalys/);
});

test('two taps swap a night: those concerned are told once, the picture and the words show it, and one more tap undoes it', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const chosen = await owner.get(tapped('2026-11-26'));
  expect(nightOf(chosen, '2026-11-26')).toContain('Bram Tiddlecote ⇄ Ines Quarrow');
  const swapped = await owner.send(chosen, 'Bram Tiddlecote ⇄ Ines Quarrow');
  expect(nightOf(swapped, '2026-11-26')).toMatch(
    /Ines Quarrow, then Bram Tiddlecote, then Odalys Fenwright Bram Tiddlecote and Ines Quarrow have swapped places\./,
  );
  expect(nightOf(swapped, '2026-11-25')).toMatch(/Bram Tiddlecote, then Ines Quarrow/);
  expect(swapped.html.match(/(?:Ines Quarrow|Bram Tiddlecote) ⇄/g)).toHaveLength(2);
  // A bad line sends the same form again.
  await owner.send(chosen, 'Bram Tiddlecote ⇄ Ines Quarrow');
  await desk.doDue();
  for (const phone of [BRAM, INES]) {
    expect(desk.carrier.textsTo(phone)).toEqual([
      'Odalys Fenwright swapped a night: The night of 2026-11-26: Ines Quarrow, then Bram Tiddlecote, then Odalys Fenwright.',
    ]);
  }
  expect(await swaps(desk)).toEqual(['2026-11-26']);
  const again = await owner.send(await owner.get(tapped('2026-11-26')), 'Undo the swaps');
  expect(nightOf(again, '2026-11-26')).toMatch(/Bram Tiddlecote, then Ines Quarrow/);
  expect(await swaps(desk)).toEqual([]);
});

test('a technician gives away their own nights and is not offered, nor allowed, those of others', async () => {
  const desk = await nightDesk({ pages: true });
  const ines = await signedIn(desk, INES);
  const chosen = await ines.get(tapped('2026-11-26'));
  const night = nightOf(chosen, '2026-11-26');
  expect(night).toContain('Ines Quarrow ⇄ Bram Tiddlecote');
  expect(night).not.toContain('Bram Tiddlecote ⇄ Odalys');
  const { people } = await desk.pages.records.roster();
  const owners = await (await theOwner(desk)).get(tapped('2026-11-26'));
  const sealed = (phone: string): string => {
    const id = people.find((person) => person.phone === phone)?.id ?? 0;
    return new RegExp(`value="(${id}-[^"]*)"`).exec(owners.html)?.[1] ?? expect.fail(`no button names ${phone}`);
  };
  const refused = await ines.send(chosen, 'Ines Quarrow ⇄ Bram', { person: sealed(BRAM), with: sealed(ODALYS) });
  expect(refused.status).toBe(422);
  expect(refused.words).toContain('Only the owner can swap the nights of others.');
  expect(await swaps(desk)).toEqual([]);
});

test.for([
  ['2026-11-23', 422],
  ['2026-11-24', 303],
  ['2027-01-19', 303],
  ['2027-01-20', 422],
  ['2026-02-30', 422],
  ['tonight', 422],
] as const)('a swap of the night of %s is answered with %i: from tonight for eight weeks', async ([night, status]) => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const chosen = await owner.get(tapped('2026-11-26'));
  const [, token = ''] = /name="token" value="([^"]*)"/.exec(chosen.html) ?? [];
  const [, person = ''] = /name="person" value="([^"]*)"/.exec(chosen.html) ?? [];
  const [, other = ''] = /name="with" value="([^"]*)"/.exec(chosen.html) ?? [];
  const shown = await owner.post('/roster/swap', new URLSearchParams({ token, night, person, with: other }));
  expect(shown.status).toBe(status);
  if (status === 422) expect(shown.words).toContain('allowed are those from 2026-11-24 to 2027-01-19');
  expect(await swaps(desk)).toEqual(status === 303 ? [night] : []);
});

test('gaps and overlaps are said in words and drawn, and a gap falls to the owner', async () => {
  const desk = await nightDesk({ pages: true, startsAt: instantOf('2026-11-25T12:00:00-07:00') });
  await desk.records.onTables(async ({ db }) => {
    const { id } = await db.selectFrom('people').select('id').where('phone', '=', BRAM).executeTakeFirstOrThrow();
    await db.deleteFrom('shifts').where('from_time', '=', '20:00').where('days_json', '=', '[1,2,3,4]').execute();
    const columns = { person_id: id, days_json: '[5]', from_time: '06:00', to_time: '10:00', position: 1 };
    await db.insertInto('shifts').values(columns).execute();
  });
  const shown = await (await theOwner(desk)).get('/roster');
  expect(shown.words).toContain(
    'Gap. Nobody is on shift from Wed 25 Nov 20:00 to Thu 26 Nov 08:00: callouts go to Odalys Fenwright.',
  );
  expect(shown.words).toContain(
    'Overlap. Bram Tiddlecote and Ines Quarrow are both at position 1 from Fri 27 Nov 08:00 to Fri 27 Nov 10:00',
  );
  expect(shown.html).toMatch(/<rect class="gap"[^>]*><\/rect><text[^>]*>nobody/);
  expect(shown.html).toContain('<rect class="both"');
  expect(nightOf(shown, '2026-11-25')).toMatch(/tonight Odalys Fenwright/);
});
