import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { BRAM, INES } from '../desk/night-desk.ts';
import { browserOf, hasChromium, pageOf } from './chromium.ts';
import { aFullNight, everyPage, signInAs } from './every-page.ts';
import { PASSWORD, linkTo } from './visitor.ts';

const WITHIN_MS = 180_000;
/** WCAG 2.2, levels A and AA, as axe-core checks them. */
const LEVELS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

async function faultsOf(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe.source);
  const results = await page.evaluate(
    (levels) =>
      (globalThis as unknown as { axe: typeof axe }).axe.run(document, {
        runOnly: levels,
        resultTypes: ['violations'],
      }),
    LEVELS,
  );
  return results.violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html.slice(0, 160)}`));
}

/** How many pixels a page is wider than its window. */
const overhang = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

test.skipIf(!hasChromium)(
  'every page keeps WCAG 2.2 AA as axe-core checks it, by day and by night, with everything opened, and fits 320 pixels and 200 %',
  async () => {
    const desk = await aFullNight();
    const browser = await browserOf();
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    const owner = await pageOf(context);
    await signInAs(desk, owner);
    const stranger = await pageOf(await browser.newContext({ viewport: { width: 1280, height: 900 } }));
    const faults: string[] = [];
    for (const { name, path, as } of await everyPage(desk, owner)) {
      const page = as === 'owner' ? owner : stranger;
      await page.goto(desk.here + path);
      await page.evaluate(() => document.querySelectorAll('details').forEach((details) => (details.open = true)));
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        faults.push(...(await faultsOf(page)).map((fault) => `${name}, ${colorScheme}: ${fault}`));
      }
      // 640 is 1280 at 200 %; 320 is what WCAG 1.4.10 names.
      for (const width of [640, 320]) {
        await page.setViewportSize({ width, height: 800 });
        const wider = await overhang(page);
        if (wider > 0) faults.push(`${name}: ${wider} pixels wider than ${width}`);
      }
      await page.setViewportSize({ width: 1280, height: 900 });
    }
    expect(faults).toEqual([]);
  },
  WITHIN_MS,
);

interface Focused {
  readonly name: string;
  readonly outlined: boolean;
  /** Whether the middle of it is in the window and not behind something else. */
  readonly seen: boolean;
}

const focused = (page: Page): Promise<Focused | null> =>
  page.evaluate(() => {
    const element = document.activeElement;
    if (element === null || element === document.body) return null;
    const box = element.getBoundingClientRect();
    const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    return {
      name: `${element.tagName.toLowerCase()} ${(element.textContent || element.getAttribute('name') || '').trim().slice(0, 40)}`,
      outlined: getComputedStyle(element).outlineStyle !== 'none',
      seen: top !== null && (element.contains(top) || top.contains(element)),
    };
  });

/** Everything that Tab comes to, in order, from the top of the page. */
async function tabThrough(page: Page): Promise<readonly Focused[]> {
  const reached: Focused[] = [];
  for (let n = 0; n < 200; n += 1) {
    await page.keyboard.press('Tab');
    const here = await focused(page);
    if (here === null) return reached;
    reached.push(here);
  }
  return expect.fail('Tab never comes to the end of the page');
}

async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let n = 0; n < 200; n += 1) {
    await page.keyboard.press('Tab');
    const here = await focused(page);
    if (here !== null && name.test(here.name)) return;
  }
  expect.fail(`Tab never comes to ${String(name)}`);
}

test.skipIf(!hasChromium)(
  'a keyboard reaches everything that can be pressed, is seen where it is, and is enough to sign in, look, take and close',
  async () => {
    const desk = await aFullNight();
    const browser = await browserOf();
    const owner = await pageOf(await browser.newContext({ viewport: { width: 390, height: 844 } }));
    await signInAs(desk, owner);
    for (const { name, path } of await everyPage(desk, owner)) {
      await owner.goto(desk.here + path);
      const pressable = await owner
        .locator('a[href], button, input:not([type=hidden]), select, textarea, summary')
        .all();
      const shown = await Promise.all(pressable.map((each) => each.isVisible()));
      const reached = await tabThrough(owner);
      // A date has three fields of its own, and a chart that scrolls is reached too.
      expect([name, reached.length]).toEqual([
        name,
        expect.toSatisfy((n: number) => n >= shown.filter(Boolean).length),
      ]);
      expect(reached.filter(({ outlined, seen }) => !outlined || !seen)).toEqual([]);
    }

    await tabTo(owner, /^button Sign out/);
    await owner.keyboard.press('Enter');
    await owner.waitForURL(/sign-in/);
    await tabTo(owner, /^input phone/);
    await owner.keyboard.type('9705550192');
    await owner.keyboard.press('Tab');
    await owner.keyboard.type(PASSWORD);
    await owner.keyboard.press('Enter');
    await owner.waitForURL(/\/night$/);
    await owner.keyboard.press('Tab');
    expect((await focused(owner))?.name).toBe('a To the sheet');
    await owner.keyboard.press('Enter');
    await tabTo(owner, /^summary Look for something/);
    await owner.keyboard.press('Enter');
    expect(await owner.getByLabel('Words that were said').isVisible()).toBe(true);

    const hand = await pageOf(await browser.newContext({ viewport: { width: 390, height: 844 } }));
    await hand.goto(desk.here + linkTo(desk, BRAM));
    await tabTo(hand, /^button TAKE/);
    await hand.keyboard.press('Enter');
    await hand.getByText('It is yours').waitFor();
    await tabTo(hand, /^textarea words/);
    await tabTo(hand, /^textarea words/);
    await hand.keyboard.type('Ambulance came.');
    await hand.keyboard.press('Tab');
    await hand.keyboard.press('Enter');
    await hand.getByText('It is closed').waitFor();
    expect(desk.carrier.textsTo(INES)).toEqual([]);
  },
  WITHIN_MS,
);
