import { writeFileSync } from 'node:fs';
import { pino } from 'pino';
import type { Logger } from 'pino';
import { nightbellApp } from './app.ts';
import { openCarrier } from './carrier/open.ts';
import { openSpool, spoolFileIn } from './carrier/spool.ts';
import { staticVoice } from './carrier/static-fallback.ts';
import { openNight } from './night.ts';
import type { Night, NightParts } from './night.ts';
import { operations } from './operation/operations.ts';
import type { TextOutcome } from './operation/watch.ts';
import { linksForNewOwners } from './pages/sign-in/tokens.ts';
import { rosterNews } from './roster/news.ts';
import { serve } from './server.ts';
import type { Server } from './server.ts';
import { SettingsError, settingsFrom } from './settings.ts';
import type { Role, Settings } from './settings.ts';
import { instantOfMs } from './time/instant.ts';

function whereToGoNext(settings: Settings, address: string): string {
  if (settings.carrier !== null) {
    return [
      `Nightbell is up for ${settings.outfitName}, listening at ${address}.`,
      'In the carrier’s console, set for the desk number:',
      // Asked to repeat a text after any failure: by default the carrier goes straight to the fallback.
      `  a text comes in        ${settings.publicUrl}/carrier/text#rc=2&rp=all`,
      `  primary handler fails  ${settings.publicUrl}/carrier/fallback`,
      `  a call comes in        ${settings.publicUrl}/carrier/voice#rc=2&rp=all`,
      `  primary handler fails  ${settings.publicUrl}/carrier/voice/fallback`,
      `  call status changes    ${settings.publicUrl}/carrier/voice/status`,
      'Better still, host the answers of npm run fallback-document elsewhere, and set their addresses as the fallbacks.',
    ].join('\n');
  }
  return [
    `Nightbell is up, as the demo: no phone company is connected. A phone to try it with:`,
    `  ${address}/demo`,
    'Or in another terminal:',
    '  npm run chat                                be a guest, and see what the technician gets',
    `  npm run post -- "it won't stop beeping"     send one signed text to this desk`,
    'Stop it with Ctrl-C.',
  ].join('\n');
}

/** Waits for a signal once; a second one, from someone who does not want to wait, ends the process at once. */
function onSignal(stop: (signal: string) => void): void {
  for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, stop);
}

const SPOOL_EVERY_MS = 60_000;

/** The web side, and what a person should know who has just started it. */
async function openWeb(night: Night, parts: Omit<NightParts, 'role'> & { token: string; role: Role }): Promise<Server> {
  const { settings, log, now, token, role } = parts;
  const { desk, pages } = night;
  const spool = openSpool(spoolFileIn(settings.dataDir, role === 'both' ? null : settings.port), log);
  const takeSpooled = async (): Promise<void> => {
    const replayed = await spool.replay((inbound) => desk.receive(inbound));
    if (replayed.done + replayed.left > 0) log.warn(replayed, 'texts of an earlier failure were taken from the spool');
  };
  await takeSpooled();
  // The records may come back while this process lives: nobody should have to start it anew for that.
  const spoolTimer = setInterval(() => {
    takeSpooled().catch((error: unknown) => night.note('the spool could not be read', { error }));
  }, SPOOL_EVERY_MS);
  spoolTimer.unref();

  const demo = settings.carrier === null;
  const { publicUrl } = settings;
  const voiceFallback = staticVoice({ ...settings, directPhone: settings.technicianPhone });
  const onAnswered = (outcome: TextOutcome, seconds: number): void => night.watch?.text(outcome, seconds);
  const app = nightbellApp({ desk, spool, log, token, publicUrl, now, pages, voiceFallback, onAnswered });
  // The demo signs with a token on this machine and has no business on the network.
  const server = await serve(app, settings.port, settings.host ?? (demo ? 'localhost' : null));
  const here = `http://localhost:${server.port}`;
  console.log(whereToGoNext(settings, here));
  if (role === 'web') console.log('Who has no password yet gets a link for it by npm run password-link.');
  // A new link ends the one before: processes that start together would end each other's.
  for (const { name, path } of role === 'web' ? [] : await linksForNewOwners(pages.signIn, now())) {
    console.log(
      `${name} has no password yet. Set it here, once, within a day:\n  ${demo ? here : settings.publicUrl}${path}`,
    );
  }
  return server;
}

/** Health, readiness and metrics, on a port of their own where one is set. Not for the public. */
async function openOperations(night: Night, settings: Settings, stopping: () => boolean): Promise<Server | null> {
  const { watch, records, redisReady, note } = night;
  if (settings.operationsPort === null || watch === null) return null;
  const lookAtRecords = (): Promise<unknown> => records.read((tx) => tx.lastAlive());
  const listener = operations({ watch, lookAtRecords, redisReady, stopping, note });
  const server = await serve(listener, settings.operationsPort, settings.host ?? 'localhost');
  console.log(`Health, readiness and metrics are told at http://localhost:${server.port}/metrics`);
  return server;
}

/**
 * JSON lines on stderr. A line that cannot be written, as on a full disk, is lost: the log must neither end the desk nor, as
 * pino's own destination does by trying again for ever, keep it from ending.
 */
function openLog(level: string): Logger {
  const write = (line: string): void => {
    try {
      writeFileSync(process.stderr.fd, line);
    } catch {
      // There is nowhere left to say so.
    }
  };
  return pino({ level }, { write });
}

/**
 * Starts a process of the desk and ends when a signal asked it to stop. The log is JSON on stderr; what a person should read is
 * on stdout.
 * @throws Error whose message says what to do: settings, flows, records, the port
 */
async function start(role: Role): Promise<void> {
  // From the first moment: asked to stop while it starts, it does so once it has started, and leaves nothing half done.
  const { promise: asked, resolve: stop } = Promise.withResolvers<string>();
  onSignal(stop);
  const settings = settingsFrom(process.env, role);
  const log = openLog(settings.logLevel);
  const { carrier, token, air } = openCarrier(settings, log);
  const now = () => instantOfMs(Date.now());
  const parts = { settings, carrier, air: role === 'both' ? air : null, log, now, role };
  const night = await openNight(parts);
  try {
    const server = role === 'work' ? null : await openWeb(night, { ...parts, token });
    if (role === 'work') console.log('Nightbell does what is due.');
    let stopping = false;
    const operated = await openOperations(night, settings, () => stopping);
    for (const file of night.unreviewed) {
      console.log(
        `flows/${file} is not reviewed yet: it needs the sign-off of a licensed clinician before guests rely on it.`,
      );
    }
    for (const line of rosterNews(await night.records.read((tx) => tx.roster()), now())) {
      log.warn(line);
      console.log(line);
    }
    log.info({ signal: await asked }, 'stopping');
    stopping = true;
    await server?.stop();
    await operated?.stop();
  } finally {
    await night.close();
  }
}

const ROLES: ReadonlyMap<string, Role> = new Map([
  ['web', 'web'],
  ['work', 'work'],
]);

/** Starts the process that is asked for: `web`, `work`, or without a word both. What keeps it from starting is said on stderr. */
export async function run([asked]: readonly string[]): Promise<void> {
  try {
    const role = asked === undefined ? 'both' : ROLES.get(asked);
    if (role === undefined) throw new Error(`src/main.mjs takes web, work or nothing; not "${asked}".`);
    await start(role);
    // All is closed; a queue that has lost its Redis would still wait for it, and keep the process.
    process.exit();
  } catch (error) {
    // Problems with settings, flows, records and the port say in their message what to do; a stack would hide it.
    console.error(error instanceof Error ? error.message : error);
    if (!(error instanceof SettingsError)) console.error('Nightbell did not start.');
    process.exitCode = 1;
  }
}
