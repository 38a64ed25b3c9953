import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { expect, test } from 'vitest';
import { browserOf, hasChromium, ownerIn, pageOf, started } from './chromium.ts';
import { PASSWORD } from './visitor.ts';

const run = promisify(execFile);
const WITHIN_MS = 120_000;

test.skipIf(!hasChromium)(
  'from the first start: sign-in, danger on the guest’s phone, the technician’s TAKE, the guest told, the night, a mark, the export',
  async () => {
    const desk = await started();
    const browser = await browserOf();

    // The owner sets a password by the link of the terminal, and leaves the night lying open.
    const office = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    const night = await ownerIn(office, desk);
    await expect.poll(() => night.textContent('main')).toContain('Nothing is written here');

    // A guest's phone, and the technician's when it rings: nobody loads a page again.
    const living = await pageOf(await browser.newContext());
    await living.goto(`${desk.here}/demo`);
    await living.getByLabel('Whose phone is in your hand').selectOption('+19705550102');
    await living.getByRole('button', { name: 'Take it' }).click();
    await living.getByLabel('Text the desk, as the guest').fill('my wifes lips are blue, she is hard to wake');
    await living.getByRole('button', { name: 'Send' }).click();
    await living.getByText('Call 911 now', { exact: false }).first().waitFor();
    const toCallout = living.getByRole('link', { name: 'open callout' });
    await toCallout.waitFor();
    const link = await toCallout.getAttribute('href');

    // Half asleep, one hand, and a phone that runs no scripts.
    const hand = await browser.newContext({
      viewport: { width: 390, height: 844 },
      javaScriptEnabled: false,
      colorScheme: 'dark',
    });
    const callout = await pageOf(hand);
    await callout.goto(desk.here + link);
    await callout.getByText('Nobody has it yet').waitFor();
    await callout.getByRole('button', { name: 'TAKE' }).click();
    await callout.getByText('It is yours').waitFor();
    await callout.getByLabel(/The guest writes English/).fill('On my way, ten minutes.');
    await callout.getByRole('button', { name: 'TELL' }).click();
    await callout.getByText('Sent to the guest').waitFor();

    // The guest was told who comes, and what they said; both pages learned of it by themselves.
    // Who that is depends on the hour: the program under test runs by the real clock.
    const told = living.getByText(/\w+ has your case now/).first();
    const [, taker] = /(\w+) has your case now/.exec((await told.textContent()) ?? '') ?? [];
    expect(taker).toBeDefined();
    await living
      .getByText(`${String(taker)}: On my way, ten minutes.`)
      .first()
      .waitFor();
    await night.getByText(new RegExp(`Callout 1: ${String(taker)} \\w+ has it`)).waitFor();
    await night.locator('.ledger .danger').waitFor();

    await callout.getByLabel('What you found and did').fill('Ambulance took her down; unit runs.');
    await callout.getByRole('button', { name: 'DONE' }).click();
    await callout.getByText('It is closed').waitFor();

    // Over coffee: the sheet, a line that was heard wrong, and what comes of it.
    await night.getByText(new RegExp(`${String(taker)} \\w+ took it and closed it`)).waitFor();
    await night.locator('.ledger a').first().click();
    await night.getByRole('heading', { name: /^Call sheet/ }).waitFor();
    await night.getByText('Heard wrong?').first().click();
    await night.getByLabel('chest pain').check();
    await night.getByRole('button', { name: 'Keep what it should have been' }).click();
    await night.getByText('Marked as heard wrong').waitFor();
    const env = { PATH: process.env['PATH'], DATA_DIR: desk.dataDir };
    const { stdout } = await run(process.execPath, ['src/commands/export.ts', '--marked'], { env });
    expect(JSON.parse(stdout)).toMatchObject({
      text: 'my wifes lips are blue, she is hard to wake',
      lang: 'en',
      expect: { danger: 'now', signs: expect.arrayContaining(['chest-pain', 'cyanosis']) },
    });

    // Out, and in again with the password.
    await night.getByRole('button', { name: 'Sign out' }).click();
    await night.getByLabel('Your phone number').fill('970 555 0192');
    await night.getByLabel('Your password').fill(PASSWORD);
    await night.getByRole('button', { name: 'Sign in' }).click();
    await night.getByRole('heading', { name: /^The night of/ }).waitFor();
  },
  WITHIN_MS,
);
