import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { openDemoDesk } from '../../src/commands/demo-desk.ts';
import { servePages } from '../../src/commands/demo-pages.ts';
import { loadBook } from '../../src/flow/load.ts';
import { instantOf } from '../../src/time/instant.ts';
import { loadHearing } from '../../src/words/load.ts';

/**
 * `npm run screenshots`: a night of the demo, as the README shows its pages. With a folder, all of them at both widths and
 * in both themes go there, to look at.
 */

const [folder = null] = process.argv.slice(2);
const FOLDER = folder ?? join(import.meta.dirname, '../../docs/screens');
const SIZES = { desktop: { width: 1280, height: 900 }, phone: { width: 390, height: 844 } } as const;
/** Those that the README shows. */
const SHOWN = new Set([
  'night-desktop-light',
  'night-phone-dark',
  'sheet-desktop-dark',
  'callout-phone-dark',
  'callout-phone-light',
  'demo-desktop-light',
]);

/** What is said in the night, and what passes after it. */
const NIGHT: readonly (readonly [from: string, words: string, passes: string])[] = [
  ['+19705550107', 'the botle lid is on croked and wont screw down strait', 'PT2M'],
  ['+19705550107', 'yes bubbles now', 'PT2H11M'],
  ['+19705550112', 'hola, el aparato no enciende', 'PT1M'],
  ['+19705550112', 'nada', 'PT40M'],
  ['+19705550101', "it won't stop beeping", 'PT1M'],
  ['+19705550101', 'one long tone', 'PT2M'],
  ['+19705550101', 'ok rolled it to the other wall. one short beep', 'PT1M'],
  ['+19705550101', 'the window', 'PT30M'],
];

const demo = await openDemoDesk({
  hear: loadHearing(),
  book: loadBook().book,
  startsAt: instantOf('2026-11-24T22:41:00-07:00'),
});
const pages = await servePages(demo);
for (const [index, [from, text, passes]] of NIGHT.entries()) {
  await demo.desk.receive({ id: `SM${index}`, from, to: '+19705550100', text, media: [] });
  await demo.doDue();
  await demo.pass(passes);
}
mkdirSync(FOLDER, { recursive: true });
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu'] });
// The last guest writes from the page.
const living = await browser.newPage();
await living.goto(`${pages.here}/demo?guest=%2B19705550102`);
await living.getByLabel('Text the desk').fill('my husbands lips are blue and hes breathing funny');
await living.getByRole('button', { name: 'Send' }).click();
await living.getByText('Call 911 now').first().waitFor();
await demo.doDue();
await demo.pass('PT40S');
const token = await demo.records.transaction(async (tx) => {
  const bram = (await tx.personByPhone('+19705550190'))?.id ?? 0;
  const [danger] = await tx.calloutsOfferedTo(bram);
  const until = instantOf('2026-11-26T00:00:00Z');
  return tx.linkToCallout({ calloutId: danger?.id ?? 0, personId: bram, now: demo.now(), until });
});

for (const [size, viewport] of Object.entries(SIZES)) {
  for (const colorScheme of ['light', 'dark'] as const) {
    const context = await browser.newContext({ viewport, colorScheme });
    await context.addCookies([{ ...pages.ownersCookie, url: pages.here }]);
    const page = await context.newPage();
    const shoot = async (what: string): Promise<void> => {
      const name = `${what}-${size}-${colorScheme}`;
      if (folder === null && !SHOWN.has(name)) return;
      await page.screenshot({ path: join(FOLDER, `${name}.jpg`), type: 'jpeg', quality: 55 });
    };
    await page.goto(`${pages.here}/night`);
    await shoot('night');
    await page
      .getByRole('link', { name: /no power/ })
      .first()
      .click();
    await page.getByRole('heading', { name: /^Call sheet/ }).waitFor();
    await shoot('sheet');
    for (const what of ['numbers', 'flows', 'places', 'learned', 'rentals', 'roster']) {
      await page.goto(`${pages.here}/${what}`);
      await shoot(what);
    }
    await page.goto(`${pages.here}/c/${token}`);
    await shoot('callout');
    await page.goto(`${pages.here}/demo?guest=%2B19705550102`);
    await shoot('demo');
    await context.close();
  }
}
await browser.close();
await pages.close();
await demo.close();
