import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { onTestFinished } from 'vitest';
import { nightbellApp } from '../../src/app.ts';
import { signatureOf } from '../../src/carrier/signature.ts';
import type { Spool } from '../../src/carrier/spool.ts';
import { staticVoice } from '../../src/carrier/static-fallback.ts';
import { openSpool } from '../../src/carrier/spool.ts';
import { textsIn } from '../../src/carrier/twiml.ts';
import type { DeskInMemory } from './desk-in-memory.ts';
import { deskInMemory } from './desk-in-memory.ts';

const VOICE_FALLBACK = staticVoice({
  outfitName: 'Quillmere Basin Oxygen',
  emergencyNumber: '911',
  directPhone: '+19705550190',
});

const TOKEN = '0123456789abcdef0123456789abcdef';
/** Where the carrier thinks it posts to: never where the test's server really listens. */
const PUBLIC_URL = 'https://desk.example.com';

export type Form = Record<string, string>;

export interface Answer {
  readonly status: number;
  readonly body: string;
  /** The texts in it, when it is TwiML. */
  readonly texts: readonly string[];
}

export interface Posting {
  readonly signedAs?: { token?: string; publicUrl?: string; path?: string };
  readonly unsigned?: boolean;
  readonly headers?: Record<string, string>;
  readonly rawBody?: string;
}

export interface DeskOnAPort {
  readonly desk: DeskInMemory;
  readonly spool: Spool;
  readonly spoolFile: string;
  readonly folder: string;
  /** Where it really listens. */
  readonly here: string;
  /** Everything that was logged, as written. */
  readonly log: () => string;
  readonly post: (path: string, form: Form, how?: Posting) => Promise<Answer>;
  readonly get: (path: string) => Promise<Answer>;
}

/** A folder of the test's own, gone with it. */
export async function ownFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'nightbell-carrier-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

/** A logger and what was written to it. */
export function logInMemory(): { log: pino.Logger; written: () => string } {
  const lines: string[] = [];
  const log = pino({ level: 'debug' }, { write: (line: string) => void lines.push(line) });
  return { log, written: () => lines.join('') };
}

/** A guest's text as the carrier's form. */
export function guestText(body: string, more: Form = {}): Form {
  return { MessageSid: 'SM1', From: '+19705550123', To: '+19705550100', Body: body, NumMedia: '0', ...more };
}

/** The real app over the in-memory desk, listening on a port of the loopback address. */
export async function deskOnAPort(more: { answerWithinMs?: number; publicUrl?: string } = {}): Promise<DeskOnAPort> {
  const { log, written } = logInMemory();
  const folder = await ownFolder();
  const spoolFile = join(folder, 'data', 'spool.jsonl');
  const desk = deskInMemory();
  const spool = openSpool(spoolFile, log);
  const app = nightbellApp({
    desk,
    spool,
    log,
    token: TOKEN,
    publicUrl: PUBLIC_URL,
    pages: null,
    voiceFallback: VOICE_FALLBACK,
    ...more,
  });
  const server = app.listen(0, '127.0.0.1');
  onTestFinished(async () => {
    server.close();
    server.closeAllConnections();
  });
  await once(server, 'listening');
  const here = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;

  async function answerOf(response: Response): Promise<Answer> {
    const body = await response.text();
    const texts = response.headers.get('content-type')?.startsWith('text/xml') ? textsIn(body) : [];
    return { status: response.status, body, texts };
  }

  return {
    desk,
    spool,
    spoolFile,
    folder,
    here,
    log: written,
    async get(path) {
      return answerOf(await fetch(here + path));
    },
    async post(path, form, how = {}) {
      const under = { token: TOKEN, publicUrl: PUBLIC_URL, path, ...how.signedAs };
      const headers: Record<string, string> = {
        'Content-Type': 'application/x-www-form-urlencoded',
        ...(how.unsigned ? {} : { 'X-Twilio-Signature': signatureOf(under, under.path, form) }),
        ...how.headers,
      };
      const body = how.rawBody ?? new URLSearchParams(form).toString();
      return answerOf(await fetch(here + path, { method: 'POST', headers, body }));
    },
  };
}
