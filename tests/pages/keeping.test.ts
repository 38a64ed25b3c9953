import { expect, test } from 'vitest';
import { ELEVATION_M } from '../../src/care/elevation.ts';
import { GUEST, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { theOwner } from './visitor.ts';
import type { Shown, Visitor } from './visitor.ts';

/** What stands beside a field as wrong; '' when nothing does. */
function faultOf({ html }: Shown, heading: string): string {
  const [, fault = ''] = new RegExp(`<p class="fault" id="field-${heading}-fault">([^<]*)</p>`).exec(html) ?? [];
  return fault.replaceAll('&quot;', '"');
}

const hrefOf = ({ html }: Shown, words: string): string =>
  new RegExp(`href="([^"]*)"[^>]*>\\s*${words}<`).exec(html)?.[1] ?? expect.fail(`no link says ${words}`);

const RENTAL = {
  guest: 'Jory Fenn',
  phones: '(970) 555-0131; 970 555 0132',
  property: 'Thistlemark Cabins',
  room: 'Cabin 2',
  unit: 'NB-12',
  first_day: '2026-12-10',
  last_day: '2026-12-14',
  order: 'night 2; day 3.5-4',
  ordered_by: 'Dr. Ilka Vennmorrow',
};

const enter = async (owner: Visitor, changed: Record<string, string> = {}): Promise<Shown> =>
  owner.send(await owner.get('/rentals/new'), 'Enter it', { ...RENTAL, ...changed });

const staysOf = (desk: NightDesk, phone: string, at: string) =>
  desk.look((tx) => tx.staysOf(phone, at as ReturnType<NightDesk['now']>));

test('a rental is entered, changed and ended by forms, and the desk knows the guest by it', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const entered = await enter(owner);
  expect(entered.path).toBe('/rentals');
  expect(entered.words).toContain('Jory Fenn');
  const [stay] = await staysOf(desk, '+19705550132', '2026-12-12T09:00:00.000Z');
  expect(stay).toMatchObject({
    guestName: 'Jory Fenn',
    room: 'Cabin 2',
    order: {
      orderedBy: 'Dr. Ilka Vennmorrow',
      lines: [
        { people: 1, when: 'night', fromLpm: 2, toLpm: 2 },
        { people: 1, when: 'day', fromLpm: 3.5, toLpm: 4 },
      ],
    },
  });
  const form = await owner.get(hrefOf(entered, 'Jory Fenn'));
  expect(form.html).toContain('value="1 person night 2; 1 person day 3.5-4"');
  const changed = await owner.send(form, 'Keep the changes', {
    guest: 'Jory Fenn-Adair',
    unit: 'NB-11',
    fragile: 'yes',
  });
  expect(changed.words).toContain('Rental of Jory Fenn-Adair');
  expect(await staysOf(desk, '+19705550132', '2026-12-12T09:00:00.000Z')).toMatchObject([
    {
      rentalId: stay?.rentalId,
      guestName: 'Jory Fenn-Adair',
      fragile: true,
      unit: { tag: 'NB-11' },
      order: stay?.order,
    },
  ]);
  await owner.send(changed, 'End it on that day', { last_day: '2026-12-11' });
  expect(await staysOf(desk, '+19705550132', '2026-12-12T09:00:00.000Z')).toEqual([]);
  expect(await staysOf(desk, '+19705550132', '2026-12-11T09:00:00.000Z')).toHaveLength(1);
});

test('a rental that nobody wrote about is taken off the records; one with a conversation stays', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const form = await owner.get(hrefOf(await enter(owner), 'Jory Fenn'));
  const gone = await owner.send(form, 'Take it off the records');
  expect(gone.words).not.toContain('Jory Fenn');
  await desk.text(GUEST, "it won't stop beeping");
  const spoken = await owner.get(hrefOf(await owner.get('/rentals'), 'Perrin Aldwick'));
  expect(spoken.words).toContain('The guest has written about it, so it stays on record.');
  expect(spoken.html).not.toContain('Take it off the records');
});

test.for([
  ['last_day', '2026-12-09', /2026-12-09 is before the first day, 2026-12-10/],
  ['first_day', '2026-02-30', /"2026-02-30" came; allowed: a date that the calendar has/],
  ['phones', '55', /"55" came; allowed: a phone number, as \(970\) 555-0101/],
  ['phones', '(970) 555-0190', /is the phone of Bram Tiddlecote/],
  ['unit', 'NB-01', null],
  ['order', 'night 15.1', /allowed: settings from 0\.1 to 15 L\/min/],
  ['order', 'day 6', /6 L\/min came; allowed: up to 5 L\/min, the highest setting of NB-12/],
  ['ordered_by', '', /it is empty beside an order/],
  ['people', '9', /allowed: a whole number from 1 to 8 people/],
  ['room', 'a room with a very long name', /allowed: at most 20 characters/],
  ['guest', '', /it is empty; allowed: at most 60 characters/],
] as const)('%s "%s" of a rental is answered beside its field, and nothing is kept', async ([heading, value, said]) => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const shown = await enter(owner, { [heading]: value });
  if (said === null) return expect(shown.path).toBe('/rentals');
  expect(shown.status).toBe(422);
  expect(faultOf(shown, heading)).toMatch(said);
  expect(shown.html).toMatch(new RegExp(`id="field-${heading}"[^>]*aria-invalid="true"`));
  expect(shown.html).toContain(`href="#field-${heading}"`);
  // What was right is still there.
  expect(shown.html).toContain('value="Cabin 2"'.replace('Cabin 2', heading === 'room' ? value : 'Cabin 2'));
  expect((await owner.get('/rentals')).words).not.toContain('Jory Fenn');
});

test('a unit is one guest’s at a time: the same days are refused by form, and by a change, with who has it when', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  await enter(owner);
  const second = await enter(owner, {
    guest: 'Ada Quill',
    phones: '9705550133',
    first_day: '2026-12-14',
    last_day: '2026-12-15',
  });
  expect(faultOf(second, 'unit')).toMatch(/NB-12 is taken .* on record, 2026-12-10 to 2026-12-14/);
  const same = await enter(owner);
  expect(same.status).toBe(422);
  expect(same.words).toContain('there is one on record already');
  const next = await enter(owner, {
    guest: 'Ada Quill',
    phones: '9705550133',
    first_day: '2026-12-15',
    last_day: '2026-12-16',
  });
  expect(next.words).toContain('Ada Quill');
  const form = await owner.get(hrefOf(next, 'Ada Quill'));
  const longer = await owner.send(form, 'Keep the changes', { first_day: '2026-12-14' });
  expect(faultOf(longer, 'unit')).toMatch(/NB-12 is taken/);
});

const HOUSE = {
  property: 'Fernly House',
  street_address: '3 Fernly Lane',
  elevation_m: '3200',
  zone: 'America/Denver',
  emergency_number: '911',
};

test.for([
  [String(ELEVATION_M.from), true],
  [String(ELEVATION_M.from - 1), false],
  [String(ELEVATION_M.to), true],
  [String(ELEVATION_M.to + 1), false],
  ['9,600', false],
  ['2900.5', false],
  ['', false],
] as const)('an elevation of "%s" m is kept: %s; the range is said at its ends', async ([elevation, kept]) => {
  const owner = await theOwner(await nightDesk({ pages: true }));
  const form = await owner.get('/places/properties/new');
  const shown = await owner.send(form, 'Enter it', { ...HOUSE, elevation_m: elevation });
  expect(shown.path).toBe(kept ? '/places' : '/places/properties/new');
  if (!kept)
    expect(faultOf(shown, 'elevation_m')).toContain(
      'a whole number from -430 to 5600 m, digits only; if it is in feet',
    );
  expect((await owner.get('/places')).words.includes('Fernly House')).toBe(kept);
});

test('properties, rooms, units and models are entered and changed by forms; what names one is not changed', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const put = async (table: string, cells: Record<string, string>): Promise<Shown> =>
    owner.send(await owner.get(`/places/${table}/new`), 'Enter it', cells);
  await put('properties', HOUSE);
  await put('rooms', { property: 'Fernly House', room: '1A', way_in: 'Up the stairs' });
  await put('models', { model: 'Small', highest_setting_lpm: '3' });
  const places = await put('units', { unit: 'NB-51', model: 'Small' });
  expect(places.words).toMatch(/1A Fernly House .* NB-51 Small .* Small 3 L\/min not known/);
  expect(faultOf(await put('units', { unit: 'nb 51', model: 'Small' }), 'unit')).toContain('on record already');
  const unit = await owner.get(hrefOf(places, 'NB-51'));
  const changed = await owner.send(unit, 'Keep the changes', { unit: 'NB-99', model: 'Ten-litre home unit' });
  expect(changed.words).toContain('Unit NB-51');
  const { units } = await desk.pages.records.places();
  expect(units.find(({ tag }) => tag === 'NB-51')?.model.name).toBe('Ten-litre home unit');
  expect(units.some(({ tag }) => tag === 'NB-99')).toBe(false);
  const house = await owner.get(hrefOf(places, 'Fernly House'));
  await owner.send(house, 'Keep the changes', { street_address: '3a Fernly Lane', elevation_m: '3300' });
  expect((await owner.get('/places')).words).toMatch(/Fernly House 3a Fernly Lane 3300 m/);
});

test('a room shows what is known of its outlets and who wrote from it, a unit who wrote about it', async () => {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, "it won't stop beeping");
  await desk.text(GUEST, 'one long tone');
  await desk.text(GUEST, 'moved it to the outlet by the window, one short beep now');
  const owner = await theOwner(desk);
  const rentals = await owner.get('/rentals');
  const room = await owner.get(hrefOf(rentals, 'Marlstone Lodge 204'));
  expect(room.words).toContain('The next guest whose unit is silent is sent to the outlet by the window.');
  expect(room.words).toMatch(/by the window 1 0 today 67%/);
  expect(room.words).toMatch(
    /What guests wrote about it Wed 25 Nov 02:10 .* settled by the guest “it won't stop beeping”/,
  );
  const unit = await owner.get(hrefOf(rentals, 'NB-01'));
  expect(unit.words).toMatch(/What guests wrote about it Wed 25 Nov 02:10 .*“it won't stop beeping”/);
  expect((await owner.get(hrefOf(rentals, 'NB-03'))).words).toContain('Nobody has written about it yet.');
});

test('what should be known of a rental is said on it: a unit above the elevation its maker vouches for', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const rental = await owner.get(hrefOf(await owner.get('/rentals'), 'Ysolde Kettermere'));
  expect(rental.words).toMatch(/To know: NB-04 is rated up to 3000 m and Thistlemark Cabins stands at 3010 m/);
});
