import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { ROUTES } from '../../src/pages/routes.ts';
import { newPasswordLink } from '../../src/pages/sign-in/tokens.ts';
import { BRAM, GUEST, LOWEN, ODALYS, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { audibleCarrier } from './audible-carrier.ts';
import { PASSWORD, linkTo } from './visitor.ts';

/** A night with a bit of everything, with the demo's phones as well. */
export async function aFullNight(words = 'my wifes lips are blue and shes breathing funny'): Promise<NightDesk> {
  const carrier = audibleCarrier();
  const desk = await nightDesk({ pages: true, carrier, air: carrier });
  await desk.text(GUEST, "it won't stop beeping");
  await desk.text(GUEST, 'one long tone');
  await desk.text(LOWEN, words);
  await desk.text(LOWEN, 'my wifes lips are blue and shes breathing funny');
  return desk;
}

export interface Named {
  readonly name: string;
  readonly path: string;
  readonly as: 'nobody' | 'owner';
}

/** Paths of the routes that name something, on a night such as the one above. */
async function namesOf(desk: NightDesk, owner: Page): Promise<Readonly<Record<string, string>>> {
  await owner.goto(`${desk.here}/night`);
  const sheet = (await owner.locator('.ledger a').first().getAttribute('href')) ?? '';
  const linkOn = async (page: string, to: RegExp): Promise<string> => {
    await owner.goto(desk.here + page);
    const links = await owner
      .locator('main a')
      .evaluateAll((all) => all.map((each) => each.getAttribute('href') ?? ''));
    return links.find((link) => to.test(link)) ?? expect.fail(`${page} leads nowhere like ${String(to)}`);
  };
  const { people } = await desk.pages.records.roster();
  const bram = people.find(({ phone }) => phone === BRAM)?.id ?? 0;
  return {
    '/night/:id': sheet,
    '/c/:token': linkTo(desk),
    '/flows/:flow': '/flows/power',
    '/rentals/:id': await linkOn('/rentals', /^\/rentals\/\d/),
    '/places/properties/:id/rooms/:room': await linkOn('/rentals', /\/rooms\//),
    '/places/units/:id': await linkOn('/places', /units\/\d/),
    '/places/models/:id': await linkOn('/places', /models\/\d/),
    '/places/properties/:id': await linkOn('/places', /properties\/[^/]*$/),
    '/places/:table/new': '/places/models/new',
    '/password/:token': await newPasswordLink(desk.pages.signIn, bram, desk.now()),
  };
}

/** Every page there is, pieces for the script and files left out. A route that is new and names something is named above. */
export async function everyPage(desk: NightDesk, owner: Page): Promise<readonly Named[]> {
  const names = await namesOf(desk, owner);
  return ROUTES.filter(
    ({ method, path }) =>
      method === 'get' && path !== '/' && !/live$|^\/numbers\/:name|\/(picture|message)\//.test(path),
  ).map(({ path, who }) => ({
    name: path,
    path: path.includes(':') ? (names[path] ?? expect.fail(`${path}: name one in tests/pages/every-page.ts`)) : path,
    as: who.includes('owner') ? 'owner' : 'nobody',
  }));
}

/** Signs a browser's page in by a one-time link. */
export async function signInAs(desk: NightDesk, page: Page, phone: string = ODALYS): Promise<void> {
  const { people } = await desk.pages.records.roster();
  const person = people.find((each) => each.phone === phone) ?? expect.fail(`nobody has ${phone}`);
  await page.goto(desk.here + (await newPasswordLink(desk.pages.signIn, person.id, desk.now())));
  await page.getByLabel('New password').fill(PASSWORD);
  await page.getByLabel('The same again').fill(PASSWORD);
  await page.getByRole('button', { name: 'Set it and sign in' }).click();
  await page.waitForURL(/\/(night|callouts)$/);
}
