import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { chromium } from 'playwright-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import { ownFolder } from '../carrier/desk-on-a-port.ts';
import { PASSWORD } from './visitor.ts';

const CHROMIUM = '/usr/bin/chromium';
/** Debian's Chromium, which `.ci/run` installs. Elsewhere these tests are left out, and vitest says so. */
export const hasChromium = existsSync(CHROMIUM);

/** `npm start` in a process of its own, as someone who tries it has it: what the terminal printed, and where it is. */
export interface Started {
  readonly here: string;
  readonly dataDir: string;
  /** The owner's link of the first start, with its host. */
  readonly passwordLink: string;
}

export async function started(): Promise<Started> {
  const dataDir = await ownFolder();
  const program = spawn(process.execPath, ['src/main.mjs'], {
    env: { PATH: process.env['PATH'], PORT: '0', DATA_DIR: dataDir, LOG_LEVEL: 'silent' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = once(program, 'exit');
  onTestFinished(async () => {
    program.kill('SIGKILL');
    await ended;
  });
  let here: string | undefined;
  for await (const line of createInterface(program.stdout)) {
    here ??= /(http:\/\/localhost:\d+)\/demo/.exec(line)?.[1];
    const passwordLink = /http:\/\/localhost:\d+\/password\/\S+/.exec(line)?.[0];
    if (here !== undefined && passwordLink !== undefined) return { here, dataDir, passwordLink };
  }
  return expect.fail('the program ended without saying where it is');
}

export async function browserOf(): Promise<Browser> {
  const args = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--disable-background-networking'];
  const browser = await chromium.launch({ executablePath: CHROMIUM, args });
  onTestFinished(() => browser.close());
  return browser;
}

/** A page that fails the test when a script breaks, or the content policy stops something. */
export async function pageOf(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  page.on('pageerror', (error) => expect.fail(`${page.url()}: ${error.message}`));
  page.on('dialog', () => expect.fail(`${page.url()} opened a dialog`));
  page.on('console', (message) => {
    if (/content security policy/i.test(message.text())) expect.fail(`${page.url()}: ${message.text()}`);
  });
  return page;
}

/** The owner in a browser, signed in by the link that the terminal printed. */
export async function ownerIn(context: BrowserContext, { passwordLink }: Started): Promise<Page> {
  const page = await pageOf(context);
  await page.goto(passwordLink);
  await page.getByLabel('New password').fill(PASSWORD);
  await page.getByLabel('The same again').fill(PASSWORD);
  await page.getByRole('button', { name: 'Set it and sign in' }).click();
  await page.getByRole('heading', { name: /^The night of/ }).waitFor();
  return page;
}
