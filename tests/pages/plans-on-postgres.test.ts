import { readFileSync } from 'node:fs';
import { Client } from 'pg';
import { expect, onTestFinished, test, vi } from 'vitest';
import type { PageRecords } from '../../src/pages/records.ts';
import type { ListRecords } from '../../src/desk/lists/records.ts';
import { listRecordsOn } from '../../src/records/list-records.ts';
import { openRecords } from '../../src/records/open.ts';
import { pageRecordsOn } from '../../src/records/page-records.ts';
import { loadScenario } from '../../src/records/scenario.ts';
import { after } from '../../src/time/instant.ts';
import { GUEST, NIGHT, begun, entryIn } from '../records/a-night.ts';
import { POSTGRES_MISSING, postgresDatabase } from '../records/places.ts';
import { GROWING } from './growing.ts';

/** What the server would do where rows are many: with so few as here it would read any table from end to end. */
const AS_IF_MANY = [
  'set plan_cache_mode = force_generic_plan',
  'set enable_seqscan = off',
  'set enable_hashjoin = off',
  'set enable_mergejoin = off',
];

interface PlanNode {
  readonly 'Node Type': string;
  readonly 'Relation Name'?: string;
  readonly 'Index Cond'?: string;
  readonly 'Recheck Cond'?: string;
  readonly Plans?: readonly PlanNode[];
}

/** Steps that read a growing table from its beginning to its end; in the order of an index, up to a limit, is no end. */
function scansIn(node: PlanNode, limited: boolean): readonly string[] {
  const table = node['Relation Name'] ?? '';
  const kind = node['Node Type'];
  const reads = GROWING.includes(table) && kind.endsWith('Scan');
  const byIndex = node['Index Cond'] !== undefined || node['Recheck Cond'] !== undefined;
  const whole = reads && !byIndex && !(limited && kind.startsWith('Index'));
  const below = (node.Plans ?? []).flatMap((each) => scansIn(each, limited || kind === 'Limit'));
  return [...(whole ? [`${kind} of ${table}`] : []), ...below];
}

async function scansOf(client: Client, sql: string): Promise<readonly string[]> {
  const parameters = new Set(sql.match(/\$\d+/g)).size;
  const values = parameters === 0 ? '' : `(${Array.from({ length: parameters }, () => 'null').join(', ')})`;
  await client.query(`prepare asked as ${sql}`);
  const { rows } = await client.query<{ 'QUERY PLAN': readonly { Plan: PlanNode }[] }>(
    `explain (format json) execute asked${values}`,
  );
  await client.query('deallocate asked');
  return (rows[0]?.['QUERY PLAN'] ?? []).flatMap(({ Plan }) => scansIn(Plan, false));
}

const fresh = postgresDatabase();
const UNTIL = after(NIGHT, 'PT12H');
const NIGHT_QUERY = {
  from: NIGHT,
  until: UNTIL,
  propertyId: null,
  unitId: null,
  flow: null,
  ending: null,
  words: null,
  below: null,
  most: 50,
} as const;

test.skipIf(POSTGRES_MISSING !== null)(
  'no query of the pages or the lists reads a growing table from end to end on Postgres either',
  async () => {
    const place = await fresh();
    const query = vi.spyOn(Client.prototype, 'query');
    onTestFinished(() => query.mockRestore());
    const records = await openRecords(place.settings);
    const client = new Client({ connectionString: place.url });
    onTestFinished(async () => {
      await client.end();
      await records.close();
      await place.remove();
    });
    const file = 'fixtures/demo/scenario.yaml';
    await loadScenario(records, { name: file, text: readFileSync(file, 'utf8') }, NIGHT);
    const { conversation, entry } = await records.transaction(async (tx) => {
      const [stay] = await tx.staysOf(GUEST, NIGHT);
      const talk = await begun(tx, GUEST, { rentalId: stay?.rentalId ?? null, propertyId: stay?.property.id ?? null });
      return {
        conversation: talk.id,
        entry: (await tx.addEntry(entryIn(talk.id, 'it beeps', { messageId: 'SM1' }))).id,
      };
    });
    query.mockClear();

    const page = pageRecordsOn(records);
    const expected = { danger: 'none', signs: [], topic: null, answer: null };
    const below = { at: UNTIL, id: conversation };
    // By name, so that a query that is new is asked here too.
    const asked: { readonly [Name in keyof PageRecords]: () => Promise<unknown> } = {
      night: async () => {
        await page.night(NIGHT_QUERY);
        for (const part of [{ propertyId: 1 }, { unitId: 1 }, { flow: 'power' }, { words: 'beep' }, { below }]) {
          await page.night({ ...NIGHT_QUERY, ...part });
        }
        for (const ending of ['open', 'settled'] as const) await page.night({ ...NIGHT_QUERY, ending });
      },
      callSheet: () => page.callSheet(conversation),
      latestOf: () => page.latestOf(GUEST),
      counted: () => page.counted(NIGHT, UNTIL),
      roster: () => page.roster(),
      places: () => page.places(),
      rentals: () => page.rentals({ from: '2026-11-24', most: 50 }),
      unit: () => page.unit(1),
      room: () => page.room(1, '204'),
      mark: () => page.mark({ entryId: entry, personId: 1, at: NIGHT, expected }),
      unmark: () => page.unmark(entry),
      calloutLink: () => page.calloutLink('none'),
      calloutLinksOf: () => page.calloutLinksOf(1, NIGHT),
      revokeCalloutLinks: () => page.revokeCalloutLinks(1, NIGHT),
    };
    const lists = listRecordsOn(records);
    const listed: { readonly [Name in keyof ListRecords]: () => Promise<unknown> } = {
      talks: () => lists.talks(NIGHT, UNTIL),
      rentals: () => lists.rentals('2026-11-01', '2026-11-24'),
      staysOn: () => lists.staysOn('2026-11-24'),
      outlets: () => lists.outlets(),
    };
    for (const ask of [...Object.values(asked), ...Object.values(listed)]) await ask();

    const given = query.mock.calls.map(([first]) => first as unknown);
    const statements = new Set(
      given
        .map((each) => (typeof each === 'string' ? each : String((each as { text?: unknown }).text)))
        .filter((sql) => /^(\/\*.*\*\/ ?)?(select|with|update|delete)/i.test(sql)),
    );
    expect(statements.size).toBeGreaterThan(20);
    await client.connect();
    for (const setting of AS_IF_MANY) await client.query(setting);
    const scans: string[] = [];
    for (const sql of statements) for (const scan of await scansOf(client, sql)) scans.push(`${scan}: ${sql}`);
    expect(scans).toEqual([]);

    // A scan is known when it is met.
    expect(await scansOf(client, "select * from entries where words like '%x%'")).toEqual(['Seq Scan of entries']);
  },
);
