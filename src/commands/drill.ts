import { setTimeout as pause } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { pino } from 'pino';
import { openCarrier } from '../carrier/open.ts';
import { beginDrill, drillInWords } from '../desk/due/drill.ts';
import type { Drill } from '../desk/records.ts';
import { openNight } from '../night.ts';
import { placeOfRecords } from '../open-records.ts';
import { openRecords } from '../records/open.ts';
import type { OpenRecords } from '../records/open.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import type { Settings } from '../settings.ts';
import { after, instantOfMs } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';

/** `npm run drill`: tries everyone on the list as a test that says so, and shows who answered how fast. */

const USAGE = `npm run drill -- [--wait PT10M]
Texts and calls everyone on the list, says that it is a test, and shows who answered how fast.
  --wait  how long to wait for answers (PT10M; in the demo PT30S)
They go the way danger goes: through the running desk, or from here when none runs.`;

/** A desk that wrote so lately that it lives is running: it looks for work by itself. */
const RUNNING_WITHIN = 'PT2M';
const LOOK_EVERY_MS = 1_000;

const now = (): Instant => instantOfMs(Date.now());

async function isRunning(records: OpenRecords): Promise<boolean> {
  const alive = await records.read((tx) => tx.lastAlive());
  return alive !== null && after(alive, RUNNING_WITHIN) > now();
}

/** Sends from this process, without a heartbeat: that is the sign of a desk that can also be written to. */
async function sendFromHere(settings: Settings): Promise<{ close(): Promise<void> }> {
  const log = pino({ level: 'warn' }, pino.destination(2));
  const { carrier, air } = openCarrier(settings, log);
  return openNight({ settings: { ...settings, heartbeatUrl: null }, carrier, air, log, now });
}

/** Waits until everyone has answered or the time is over. */
async function answersTo(records: OpenRecords, drill: Drill, until: Instant): Promise<Drill> {
  for (;;) {
    const standing = (await records.read((tx) => tx.drill(drill.id))) ?? drill;
    const everyone = standing.calls.every((call) => call.answeredAt !== null);
    if (everyone || now() >= until) return standing;
    await pause(LOOK_EVERY_MS);
  }
}

async function drill(): Promise<void> {
  const { values } = parseArgs({ options: { wait: { type: 'string' }, help: { type: 'boolean' } } });
  if (values.help === true) {
    console.log(USAGE);
    return;
  }
  const settings = settingsFrom(process.env);
  const demo = settings.carrier === null;
  const until = after(now(), values.wait ?? (demo ? 'PT30S' : 'PT10M'));
  const records = await openRecords(placeOfRecords(settings));
  const sender = (await isRunning(records)) ? null : await sendFromHere(settings);
  try {
    const begun = await records.transaction((tx) => beginDrill(tx, settings.outfitName, now()));
    const { people } = await records.read((tx) => tx.roster());
    const from = sender === null ? 'the running desk' : 'here, since no desk is running to take answers';
    console.log(`Test ${begun.id}: ${begun.calls.length} people are texted and called from ${from}.`);
    if (demo) console.log('No phone rings in the demo. Answer as one: npm run post -- HERE --from +19705550190');
    console.log(drillInWords(await answersTo(records, begun, until), people).join('\n'));
  } finally {
    await sender?.close();
    await records.close();
  }
}

try {
  await drill();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  if (!(error instanceof SettingsError)) console.error('The test was not carried out to its end.');
  process.exitCode = 1;
}
