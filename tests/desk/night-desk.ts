import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { expect, onTestFinished } from 'vitest';
import { nightbellApp } from '../../src/app.ts';
import { staticVoice } from '../../src/carrier/static-fallback.ts';
import { openSpool } from '../../src/carrier/spool.ts';
import { openDesk } from '../../src/desk/desk.ts';
import type { Air } from '../../src/pages/demo/phones.ts';
import { DemoPhones } from '../../src/pages/demo/phones.ts';
import type { PagesSide } from '../../src/pages/visit.ts';
import { pagesSideOn } from '../../src/pages-side.ts';
import { isTextKind } from '../../src/desk/work-kinds.ts';
import type { Callout, Conversation, Entry, Tx, Work } from '../../src/desk/records.ts';
import type { FlowBook } from '../../src/flow/book.ts';
import { FLOWS_DIRECTORY, loadBook } from '../../src/flow/load.ts';
import { FlowChecks } from '../../src/flow-watch.ts';
import { openRecords } from '../../src/records/open.ts';
import type { OpenRecords, RecordsSettings } from '../../src/records/open.ts';
import { loadScenario } from '../../src/records/scenario.ts';
import { after, instantOf } from '../../src/time/instant.ts';
import type { Instant } from '../../src/time/instant.ts';
import { loadHearing } from '../../src/words/load.ts';
import { doAllDue } from '../../src/work/do-due.ts';
import { paceOf } from '../../src/work/pace.ts';
import { guestText, logInMemory, ownFolder } from '../carrier/desk-on-a-port.ts';
import type { Form } from '../carrier/desk-on-a-port.ts';
import { pocketCarrier } from './pocket-carrier.ts';
import type { PocketCarrier } from './pocket-carrier.ts';
import { SIGNED_UNDER, postSigned } from './signed-posts.ts';

const VOICE_FALLBACK = staticVoice({
  outfitName: 'Quillmere Basin Oxygen',
  emergencyNumber: '911',
  directPhone: '+19705550190',
});

/** A Wednesday, ten past two in the morning: Bram is tried first, then Ines, then Odalys, the owner. */
export const NIGHT = instantOf('2026-11-25T02:10:00-07:00');

const SCENARIO = 'fixtures/demo/scenario.yaml';
const DESK_NUMBER = '+19705550100';
const OUTFIT = {
  name: 'Quillmere Basin Oxygen',
  directNumber: '(970) 555-0190',
  emergencyNumber: '911',
  zone: 'America/Denver',
};
const hear = loadHearing();
export const { book: BOOK } = loadBook();

/** The real desk behind the real web side, on records of its own, with the demo's people and a clock moved by hand. */
export interface NightDesk {
  readonly records: OpenRecords;
  /** What its pages stand among. */
  readonly pages: PagesSide;
  /** What came of edited flows, as its pages tell it. */
  readonly checks: FlowChecks;
  /** Where its records are; another desk can go on with them. */
  readonly folder: string;
  /** Where its web side listens. */
  readonly here: string;
  readonly carrier: PocketCarrier;
  readonly spoolFile: string;
  /** Everything that was logged, as written. */
  readonly log: () => string;
  readonly now: () => Instant;
  /** One signed text, and whatever is due after it. Gives the reply's words; '' is silence. */
  readonly text: (from: string, words: string, more?: Form) => Promise<string>;
  /** The carrier's report on a text: "reply=3" or "work=7". */
  readonly report: (about: string, status: string, more?: Form) => Promise<void>;
  /** Lets time pass, stopping at each instant at which something falls due. */
  readonly pass: (duration: string) => Promise<void>;
  /** Sets the clock, as no time passes, and does what is due by it. */
  readonly setClock: (to: Instant) => Promise<void>;
  /** Does what is due now, as after a page's action. */
  readonly doDue: () => Promise<void>;
  readonly canSend: () => Promise<boolean>;
  readonly look: <T>(use: (tx: Tx) => Promise<T>) => Promise<T>;
}

async function demoRecords(place: RecordsSettings, now: Instant): Promise<OpenRecords> {
  const records = await openRecords(place);
  await loadScenario(records, { name: SCENARIO, text: readFileSync(SCENARIO, 'utf8') }, now);
  return records;
}

export interface NightParts {
  readonly book?: FlowBook;
  readonly startsAt?: Instant;
  readonly carrier?: PocketCarrier;
  /** Without it texts are not held to a pace. */
  readonly textsPerSecond?: number;
  /** With the pages: texts of callouts carry a link to them. */
  readonly pages?: boolean;
  /** With the demo's phones as well, which listen to this. */
  readonly air?: Air;
  /** After how many days words are taken out; never without it. */
  readonly keepWordsDays?: number;
  /** What a text part costs, in cents; not set without it. */
  readonly centsAPart?: number;
  /** The folder of a desk that was there before, whose records this one goes on with. */
  readonly folder?: string;
  /** Where its records are, if not in a file of that folder. */
  readonly place?: RecordsSettings;
}

/** Opens the desk for one test; everything of it is gone afterwards. */
export async function nightDesk(parts: NightParts = {}): Promise<NightDesk> {
  const { log, written } = logInMemory();
  const folder = parts.folder ?? (await ownFolder());
  let clock = parts.startsAt ?? NIGHT;
  const now = (): Instant => clock;
  const carrier = parts.carrier ?? pocketCarrier();
  const note = (event: string, details: object): void => log.info(details, event);
  const records = await demoRecords(parts.place ?? { sqliteFile: join(folder, 'nightbell.sqlite') }, clock);
  const desk = await openDesk({
    records,
    carrier,
    hear,
    book: parts.book ?? BOOK,
    outfit: OUTFIT,
    ...(parts.pages !== true ? {} : { pagesUrl: SIGNED_UNDER.publicUrl }),
    alarmPhones: [BRAM, ODALYS],
    keepWordsDays: parts.keepWordsDays ?? null,
    now,
    note,
    wake: () => {},
  });
  const spoolFile = join(folder, 'spool.jsonl');
  const spool = openSpool(spoolFile, log);
  const checks = new FlowChecks(FLOWS_DIRECTORY, now);
  const centsAPart = parts.centsAPart ?? null;
  const pages = pagesSideOn(records, {
    desk,
    centsAPart,
    checks,
    outfit: OUTFIT,
    publicUrl: SIGNED_UNDER.publicUrl,
    now,
    demo: parts.air === undefined ? null : new DemoPhones(desk, parts.air, DESK_NUMBER, now),
    note,
  });
  const shown = parts.pages === true ? pages : null;
  const server = nightbellApp({
    desk,
    spool,
    log,
    ...SIGNED_UNDER,
    now,
    pages: shown,
    voiceFallback: VOICE_FALLBACK,
  }).listen(0, '127.0.0.1');
  onTestFinished(async () => {
    server.close();
    server.closeAllConnections();
    await records.close();
  });
  await once(server, 'listening');
  const here = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;

  const worker = {
    table: records,
    doWork: (work: Work) => desk.doWork(work),
    beforeClaiming: () => desk.lookAtClock(),
    ...(parts.textsPerSecond === undefined
      ? {}
      : { holdBack: paceOf({ perSecond: parts.textsPerSecond, counts: isTextKind, now }) }),
    now,
    note: (event: string, details: object) => expect.fail(`${event}: ${JSON.stringify(details)}`),
  };
  let texts = 0;
  return {
    records,
    pages,
    checks,
    folder,
    here,
    carrier,
    spoolFile,
    log: written,
    now,
    async text(from, words, more = {}) {
      texts += 1;
      const form = guestText(words, { MessageSid: `SM${texts}`, From: from, ...more });
      const { texts: replies } = await postSigned(here, '/carrier/text', form);
      await doAllDue(worker);
      return replies.join('');
    },
    async report(about, status, more = {}) {
      await postSigned(here, `/carrier/text-status?${about}`, { MessageSid: 'SM0', MessageStatus: status, ...more });
      await doAllDue(worker);
    },
    async pass(duration) {
      const until = after(clock, duration);
      for (let next = await records.nextDueAt(); next !== null && next <= until; next = await records.nextDueAt()) {
        if (next > clock) clock = next;
        await doAllDue(worker);
      }
      clock = until;
    },
    async setClock(to) {
      clock = to;
      await doAllDue(worker);
    },
    doDue: async () => void (await doAllDue(worker)),
    canSend: () => desk.canSend(),
    look: (use) => records.read(use),
  };
}

/** Of the demo's people and guests. */
export const [BRAM, INES, ODALYS] = ['+19705550190', '+19705550191', '+19705550192'] as const;
/** Perrin Aldwick, Marlstone Lodge 204, unit NB-01: nothing special about them. */
export const GUEST = '+19705550101';
/** Lowen Marchbrook, Tarnhook Condominiums A2: two phones of one rental. */
export const [LOWEN, LOWENS_OTHER_PHONE] = ['+19705550107', '+19705550117'] as const;
export const STRANGER = '+19705550199';

export async function conversationOf(desk: NightDesk, phone: string): Promise<Conversation> {
  const latest = await desk.look((tx) => tx.latestConversation(phone));
  return latest ?? expect.fail(`no conversation of ${phone}`);
}

export async function entriesOf(desk: NightDesk, phone: string): Promise<readonly Entry[]> {
  const { id } = await conversationOf(desk, phone);
  return desk.look((tx) => tx.entries(id));
}

/** Callouts of the latest conversation of a phone that nobody has closed. */
export async function openCalloutsOf(desk: NightDesk, phone: string): Promise<readonly Callout[]> {
  const { id } = await conversationOf(desk, phone);
  return desk.look((tx) => tx.openCallouts(id));
}

/** The first sentence of a reply. */
export function firstSentence(words: string): string {
  return words.split(/(?<=[.!?])\s/)[0] ?? '';
}
