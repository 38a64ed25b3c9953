import { describe, expect, it, onTestFinished } from 'vitest';
import { ownFolder } from '../carrier/desk-on-a-port.ts';
import { started, textTo } from '../carrier/started.ts';
import type { Started } from '../carrier/started.ts';
import { openRelay } from '../../src/commands/trials/relay.ts';
import { newPasswordLink } from '../../src/pages/sign-in/tokens.ts';
import { openRecords } from '../../src/records/open.ts';
import type { OpenRecords } from '../../src/records/open.ts';
import { signInRecordsOn } from '../../src/records/page-sign-in.ts';
import { instantOfMs } from '../../src/time/instant.ts';
import { POSTGRES_MISSING, postgresDatabase } from '../records/places.ts';
import { unlessLeftOut } from '../servers.ts';
import { REDIS_MISSING, REDIS_URL, redisPart } from '../work/redis-place.ts';

const MISSING = POSTGRES_MISSING ?? REDIS_MISSING;
const STARTS_WITHIN_MS = 120_000;
const GUEST = '+19705550102';

interface Processes {
  readonly webs: readonly { readonly here: string; readonly told: string }[];
  readonly worker: { readonly told: string };
  readonly all: readonly Started[];
  readonly dataDir: string;
  /** The same records, looked at from here. */
  readonly records: OpenRecords;
}

const TOLD = /http:\/\/localhost:\d+(?=\/metrics)/;

describe.skipIf(MISSING !== null)(`two processes that answer and one that works${unlessLeftOut(MISSING)}`, () => {
  const fresh = postgresDatabase();
  const { prefix } = redisPart();

  async function start(): Promise<Processes> {
    const place = await fresh();
    const dataDir = await ownFolder();
    const environment = {
      DATABASE_URL: place.url,
      REDIS_URL,
      REDIS_PREFIX: prefix,
      DATA_DIR: dataDir,
      OPERATIONS_PORT: '0',
    };
    // Before those that are started: what is registered first is done last.
    const records = await openRecords(place.settings);
    onTestFinished(async () => {
      await records.close();
      await place.remove();
    });
    const [one, two, worker] = [started('web', environment), started('web', environment), started('work', environment)];
    const webs = [one, two].map(async (web) => ({ here: await web.address(), told: await web.address(TOLD) }));
    return {
      webs: await Promise.all(webs),
      worker: { told: await worker.address(TOLD) },
      all: [one, two, worker],
      dataDir,
      records,
    };
  }

  it(
    'are one desk: for a guest, for who is woken, for who signs in, and for who watches it',
    async () => {
      const { webs, worker, all, dataDir, records } = await start();
      const [one, two] = [webs[0]?.here ?? '', webs[1]?.here ?? ''];

      // One text, delivered to both at once, is answered once and the same.
      const danger = { body: 'my husbands lips are blue', id: 'SM1', from: GUEST };
      const replies = await Promise.all([one, two, one, two, one].map((web) => textTo(web, dataDir, danger)));
      expect(new Set(replies.map(String)).size).toBe(1);
      expect(replies[0]?.join()).toMatch(/^Call 911 now/);
      // The conversation goes on wherever the next text comes.
      expect((await textTo(two, dataDir, { ...danger, body: 'yes they come', id: 'SM2' })).join()).toContain(
        'dispatcher',
      );
      const entries = await records.read(async (tx) => {
        const conversation = await tx.latestConversation(GUEST);
        return tx.entries(conversation?.id ?? 0);
      });
      expect(entries.flatMap(({ who, words }) => (who === 'guest' ? [words] : []))).toEqual([
        danger.body,
        'yes they come',
      ]);
      expect(entries.filter(({ words }) => words.startsWith('Call 911 now'))).toHaveLength(1);

      // What one process answered, another works on.
      const metrics = async (): Promise<string> => (await fetch(`${worker.told}/metrics`)).text();
      await expect.poll(metrics, { timeout: 20_000 }).toContain('nightbell_work_total{kind="text",outcome="done"} 1');
      expect(await metrics()).toContain('nightbell_callouts_untaken{urgency="danger"} 1');
      expect(await (await fetch(`${webs[0]?.told}/readyz`)).text()).toBe('ready\n');

      // A link opened here, a password set there, a session good for both.
      const { people } = await records.read((tx) => tx.roster());
      const owner = people.find(({ role }) => role === 'owner');
      const path = await newPasswordLink(signInRecordsOn(records), owner?.id ?? 0, instantOfMs(Date.now()));
      const form = await (await fetch(`${one}${path}`)).text();
      const token = /name="token" value="([^"]+)"/.exec(form)?.[1] ?? expect.fail('no token in the form');
      const password = 'nine marmots under one roof';
      const body = new URLSearchParams({ token, password, again: password });
      const set = await fetch(`${two}${path}`, { method: 'POST', body, redirect: 'manual' });
      const cookie = set.headers
        .getSetCookie()
        .map((each) => each.split(';')[0])
        .join('; ');
      const night = await fetch(`${one}/night`, { headers: { cookie }, redirect: 'manual' });
      expect([night.status, await night.text()]).toEqual([200, expect.stringContaining('Soledad Birchmoor')]);

      expect(await Promise.all(all.map((each) => each.end('SIGTERM')))).toEqual([0, 0, 0]);
    },
    STARTS_WITHIN_MS,
  );

  it(
    'end when they are asked to, also while Redis is away',
    async () => {
      const place = await fresh();
      const { hostname, port } = new URL(REDIS_URL);
      const relay = await openRelay(hostname, Number(port));
      onTestFinished(async () => {
        await relay.stop();
        await place.remove();
      });
      const through = Object.assign(new URL(REDIS_URL), { host: `127.0.0.1:${relay.port}` }).href;
      const environment = {
        DATABASE_URL: place.url,
        REDIS_URL: through,
        REDIS_PREFIX: prefix,
        DATA_DIR: await ownFolder(),
        OPERATIONS_PORT: '0',
      };
      const both = [started('web', environment), started('work', environment)];
      await Promise.all(both.map((each) => each.address(TOLD)));
      await relay.stop();
      expect(await Promise.all(both.map((each) => each.end('SIGTERM')))).toEqual([0, 0]);
    },
    STARTS_WITHIN_MS,
  );
});
