import type { Logger } from 'pino';
import { failureOf } from './carrier/failure.ts';
import { nationalForm } from './carrier/phone.ts';
import type { Carrier } from './desk/carrier.ts';
import type { Desk } from './desk/desk.ts';
import { openDesk } from './desk/desk.ts';
import { unreviewed } from './flow/book.ts';
import { FLOWS_DIRECTORY, loadBookToUse } from './flow/load.ts';
import type { Air } from './pages/demo/phones.ts';
import { DemoPhones } from './pages/demo/phones.ts';
import type { PagesSide } from './pages/visit.ts';
import { pagesSideOn } from './pages-side.ts';
import { FlowChecks, watchFlows } from './flow-watch.ts';
import type { TakenUp } from './flow-watch.ts';
import { openRecordsOf } from './open-records.ts';
import type { OpenRecords } from './records/open.ts';
import type { Role, Settings } from './settings.ts';
import { standing } from './records/standing.ts';
import type { Work } from './desk/records.ts';
import { counted } from './operation/counted.ts';
import type { Watch } from './operation/watch.ts';
import type { Instant } from './time/instant.ts';
import { startHeartbeat } from './heartbeat.ts';
import { startWorkHere } from './work-here.ts';
import type { WorkHere } from './work-here.ts';
import { loadHearings } from './words/load.ts';

/** A desk at work: its records, what it does for the carrier, and the loop that does what is due. */
export interface Night {
  readonly desk: Desk;
  /** Files of the flows that no clinician has reviewed yet. */
  readonly unreviewed: readonly string[];
  readonly records: OpenRecords;
  /** Counts for a scraper; null where none is asked for. */
  readonly watch: Watch | null;
  /** Whether Redis takes work now; null where none is used. */
  readonly redisReady: () => boolean | null;
  /** Events as log lines. */
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
  /** What the pages stand among. */
  readonly pages: PagesSide;
  /** Finishes the work in hand and closes the records. */
  close(): Promise<void>;
}

export interface NightParts {
  readonly settings: Settings;
  readonly carrier: Carrier;
  /** The demo's carrier again, for the phones of its page; null with a real one. */
  readonly air: Air | null;
  readonly log: Logger;
  readonly now: () => Instant;
  /** What the process is there for. @defaultValue 'both' */
  readonly role?: Role;
}

/** The desk's and the loop's events as log lines; an error among their details is stripped to what a log may hold. */
function noteTo(log: Logger): (event: string, details: Readonly<Record<string, unknown>>) => void {
  return (event, { error, ...details }) => {
    if (error === undefined) log.info(details, event);
    else log.error({ ...details, failure: failureOf(error) }, event);
  };
}

/** What the log, and with it the owner, learns of edited flows. */
function noteFlows(
  note: (event: string, details: Readonly<Record<string, unknown>>) => void,
): (result: TakenUp) => void {
  return (result) => {
    if (result.taken) note('edited flows were taken up', { hash: result.hash });
    else note('edited flows were refused; the desk goes on with those it has', { reason: result.reason });
  };
}

/**
 * Opens the desk as the settings say, loads the demo's scenario when there is no carrier, and begins with what is due.
 * @throws Error with the place and what to do: a broken flow file, records that cannot be opened.
 */
export async function openNight(parts: NightParts): Promise<Night> {
  const { settings, carrier, log, now } = parts;
  const note = noteTo(log);
  // Before the records: a broken flow file must keep the desk from starting, and leave nothing behind.
  const book = loadBookToUse();
  const hearings = loadHearings();
  let here: WorkHere | null = null;
  const records = await openRecordsOf({ settings, now, onWork: (rows) => here?.added(rows) });
  const outfit = {
    name: settings.outfitName,
    directNumber: nationalForm(settings.technicianPhone),
    emergencyNumber: settings.emergencyNumber,
    zone: settings.outfitZone,
  };
  const desk = await openDesk({
    records,
    carrier,
    ...hearings,
    book,
    outfit,
    pagesUrl: settings.publicUrl,
    alarmPhones: [...new Set([settings.technicianPhone, settings.ownerPhone])],
    drillReminder: settings.drillReminder,
    keepWordsDays: settings.keepWordsDays,
    now,
    note,
    wake: () => here?.wake(),
  });
  const role = parts.role ?? 'both';
  // Loaded only where someone asks for metrics: an embedded desk has to be up soon.
  const watch =
    settings.operationsPort === null
      ? null
      : (await import('./operation/watch.ts')).openWatch({
          standing: () => records.viewTables((handle) => standing(handle, now())),
          redisReady: () => here?.redisReady() ?? null,
          now,
        });
  const work = (due: Work) => desk.doWork(due);
  const doWork = watch === null ? work : counted(watch, work);
  here = await startWorkHere({ settings, role, records, desk: { ...desk, doWork }, now, note });
  // Only who sends can say that texts go out.
  const heart =
    role === 'web' ? null : startHeartbeat({ address: settings.heartbeatUrl, canSend: () => desk.canSend(), note });
  const checks = new FlowChecks(FLOWS_DIRECTORY, now);
  const logFlows = noteFlows(note);
  const stopWatching = watchFlows(
    FLOWS_DIRECTORY,
    (edited) => desk.takeUp(edited),
    (result) => {
      checks.note(result);
      logFlows(result);
    },
  );
  const centsAPart = settings.textPartCents;
  return {
    desk,
    records,
    watch,
    redisReady: () => here.redisReady(),
    note,
    pages: pagesSideOn(records, {
      desk,
      centsAPart,
      checks,
      outfit,
      publicUrl: settings.publicUrl,
      now,
      demo: parts.air === null ? null : new DemoPhones(desk, parts.air, settings.deskNumber, now),
      note,
    }),
    unreviewed: unreviewed(book),
    async close() {
      stopWatching();
      heart?.stop();
      await here.stop();
      await records.close();
    },
  };
}
