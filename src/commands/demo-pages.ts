import { join } from 'node:path';
import { pino } from 'pino';
import { nightbellApp } from '../app.ts';
import { openSpool } from '../carrier/spool.ts';
import { FLOWS_DIRECTORY } from '../flow/load.ts';
import { FlowChecks } from '../flow-watch.ts';
import { DemoPhones } from '../pages/demo/phones.ts';
import { beginSession } from '../pages/sign-in/session.ts';
import { pagesSideOn } from '../pages-side.ts';
import { serve } from '../server.ts';
import type { DemoDesk } from './demo-desk.ts';

const DESK_NUMBER = '+19705550100';
const PUBLIC_URL = 'http://localhost';

const OUTFIT = { name: 'Quillmere Basin Oxygen', directNumber: '(970) 555-0190', zone: 'America/Denver' };

/** The pages of a demo desk, on a port of this machine. */
export interface DemoPages {
  readonly here: string;
  /** The owner's session, as a browser sends it: name and value. */
  readonly ownersCookie: { readonly name: string; readonly value: string };
  close(): Promise<void>;
}

/** Serves the pages of a demo desk, the owner signed in. Closes without the desk. */
export async function servePages(demo: DemoDesk): Promise<DemoPages> {
  const { desk, records, carrier, folder } = demo;
  const now = () => demo.now();
  const log = pino({ level: 'warn' }, pino.destination(2));
  const centsAPart = null;
  const pages = pagesSideOn(records, {
    desk,
    centsAPart,
    checks: new FlowChecks(FLOWS_DIRECTORY, now),
    outfit: OUTFIT,
    publicUrl: PUBLIC_URL,
    now,
    demo: new DemoPhones(desk, carrier, DESK_NUMBER, now),
    note: () => {},
  });
  const spool = openSpool(join(folder, 'spool.jsonl'), log);
  // Nobody calls here.
  const side = {
    desk,
    spool,
    log,
    token: 'for-the-pages-of-this-demo-only',
    publicUrl: PUBLIC_URL,
    now,
    voiceFallback: '',
  };
  const server = await serve(nightbellApp({ ...side, pages }), 0, 'localhost');
  const owner = (await pages.records.roster()).people.find(({ role }) => role === 'owner');
  if (owner === undefined) throw new Error('The demo’s scenario has no owner.');
  const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(await beginSession(pages, owner, now())) ?? [];
  return { here: `http://localhost:${server.port}`, ownersCookie: { name, value }, close: () => server.stop() };
}
