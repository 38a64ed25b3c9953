import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { NightQuery, PageRecords } from '../../../src/pages/records.ts';
import type { SignInRecords } from '../../../src/pages/sign-in/records.ts';
import type { OpenRecords } from '../../../src/records/open.ts';
import { markedLines, namesOnRecord } from '../../../src/records/page-marks.ts';
import { pageRecordsOn } from '../../../src/records/page-records.ts';
import { signInRecordsOn } from '../../../src/records/page-sign-in.ts';
import { loadScenario } from '../../../src/records/scenario.ts';
import { after } from '../../../src/time/instant.ts';
import { FLOW_HASH, GUEST, NIGHT, OTHER_GUEST, begun, entryIn } from '../a-night.ts';

const DEMO = 'fixtures/demo/scenario.yaml';

const ASKED: NightQuery = {
  from: after(NIGHT, '-PT6H'),
  until: after(NIGHT, 'PT6H'),
  propertyId: null,
  unitId: null,
  flow: null,
  ending: null,
  words: null,
  below: null,
  most: 50,
};

/** What the pages ask of the records. */
export function pages(records: () => OpenRecords): void {
  async function aNight(): Promise<{ page: PageRecords; signIn: SignInRecords; first: number; second: number }> {
    await loadScenario(records(), { name: DEMO, text: readFileSync(DEMO, 'utf8') }, NIGHT);
    return records().transaction(async (tx) => {
      const stay = (await tx.staysOf(GUEST, NIGHT))[0];
      const place = { rentalId: stay?.rentalId ?? null, propertyId: stay?.property.id ?? null, room: '204' };
      const first = await begun(tx, GUEST, place);
      await tx.addEntry(entryIn(first.id, 'It BEEPS 100%_all the time', { messageId: 'SM1' }));
      const said = await tx.addEntry(entryIn(first.id, 'Listen.', { who: 'desk', step: 'power.listen' }));
      await tx.noteTextState(`reply-${said.id}`, 'lost', 2, NIGHT);
      const second = await begun(tx, OTHER_GUEST, {
        openedAt: after(NIGHT, 'PT1M'),
        ending: 'settled',
        endedAt: NIGHT,
      });
      await tx.addEntry(entryIn(second.id, 'No water', { messageId: 'SM2', step: 'humidifier.water' }));
      const page = pageRecordsOn(records());
      return { page, signIn: signInRecordsOn(records()), first: first.id, second: second.id };
    });
  }

  it('a night comes newest first with its words and flows, and is narrowed by each part of the query', async () => {
    const { page, first, second } = await aNight();
    const all = await page.night(ASKED);
    expect(all.more).toBe(false);
    expect(all.lines.map(({ id, firstWords, flows }) => ({ id, firstWords, flows }))).toEqual([
      { id: second, firstWords: 'No water', flows: ['humidifier'] },
      { id: first, firstWords: 'It BEEPS 100%_all the time', flows: ['power'] },
    ]);
    const { properties, units } = await page.places();
    const propertyId = properties.find(({ name }) => name === 'Marlstone Lodge')?.id ?? 0;
    const unitId = units.find(({ tag }) => tag === 'NB-01')?.id ?? 0;
    const found = async (query: Partial<NightQuery>): Promise<readonly number[]> =>
      (await page.night({ ...ASKED, ...query })).lines.map(({ id }) => id);
    expect(await found({ propertyId })).toEqual([first]);
    expect(await found({ unitId })).toEqual([first]);
    expect(await found({ flow: 'power' })).toEqual([first]);
    expect(await found({ flow: 'pow' })).toEqual([]);
    expect(await found({ ending: 'open' })).toEqual([first]);
    expect(await found({ ending: 'settled' })).toEqual([second]);
    expect(await found({ words: 'beeps 100%_ALL' })).toEqual([first]);
    expect(await found({ words: 'b%s' })).toEqual([]);
    expect(await found({ below: { at: after(NIGHT, 'PT1M'), id: second } })).toEqual([first]);
    expect(await page.night({ ...ASKED, most: 1 })).toMatchObject({ more: true, lines: [{ id: second }] });
    expect(await found({ from: after(NIGHT, 'PT1M') })).toEqual([second]);
  });

  it('a call sheet has its lines, what became of texts, its stay and its flows; none for another id', async () => {
    const { page, first } = await aNight();
    const sheet = await page.callSheet(first);
    expect(sheet?.entries.map(({ words }) => words)).toEqual(['It BEEPS 100%_all the time', 'Listen.']);
    expect([...(sheet?.deliveries.values() ?? [])]).toEqual(['lost']);
    expect([sheet?.stay?.unit.tag, sheet?.property?.name, sheet?.flowDocuments]).toEqual([
      'NB-01',
      'Marlstone Lodge',
      {},
    ]);
    expect(await page.callSheet(first + 1000)).toBe(null);
    expect(await page.latestOf(GUEST)).toBe(first);
    expect(await page.latestOf('+19705550155')).toBe(null);
  });

  it('a mark is kept once a line, changed and taken back', async () => {
    const { page, first } = await aNight();
    const { people } = await page.roster();
    const entryId = (await page.callSheet(first))?.entries[0]?.id ?? 0;
    const mark = (danger: string) =>
      page.mark({
        entryId,
        personId: people[0]?.id ?? 0,
        at: NIGHT,
        expected: { danger, signs: [], topic: null, answer: null },
      });
    await mark('ask');
    await mark('now');
    expect((await page.callSheet(first))?.marks.get(entryId)).toMatchObject({ danger: 'now' });
    const lines = await records().viewTables(markedLines);
    expect(lines).toEqual([expect.objectContaining({ entryId, flowHash: FLOW_HASH, guestName: 'Perrin Aldwick' })]);
    expect(await records().viewTables(namesOnRecord)).toEqual(
      expect.arrayContaining(['Perrin Aldwick', 'Ines Quarrow']),
    );
    await page.unmark(entryId);
    expect((await page.callSheet(first))?.marks.size).toBe(0);
  });

  it('a link to a callout stays the same until it ends or is revoked', async () => {
    const { page, first } = await aNight();
    const { people } = await page.roster();
    const personId = people[0]?.id ?? 0;
    const { callout } = await records().transaction((tx) =>
      tx.openCallout({
        key: 'danger:1',
        conversationId: first,
        matter: 'no power',
        urgency: 'danger',
        status: 'ringing',
        brief: 'DANGER',
        openedAt: NIGHT,
        cause: null,
      }),
    );
    const link = (now = NIGHT) =>
      records().transaction((tx) =>
        tx.linkToCallout({ calloutId: callout.id, personId, now, until: after(now, 'PT16H') }),
      );
    const token = await link();
    expect(token).toMatch(/^[\w-]{16}$/);
    expect(await link(after(NIGHT, 'PT1M'))).toBe(token);
    const shown = { token, callout: { id: callout.id, conversationId: first }, person: { active: true } };
    expect(await page.calloutLink(token)).toMatchObject(shown);
    expect(await page.calloutLinksOf(personId, NIGHT)).toMatchObject([shown]);
    expect(await page.calloutLinksOf(personId, after(NIGHT, 'PT17H'))).toEqual([]);
    await page.revokeCalloutLinks(callout.id, NIGHT);
    expect((await page.calloutLink(token))?.revokedAt).toBe(NIGHT);
    expect(await link()).not.toBe(token);
    expect(await page.calloutLink('nothing')).toBe(null);
  });

  it('a password link is used once, by one of many at the same moment; it ends every session', async () => {
    const { signIn } = await aNight();
    const [owner] = await signIn.ownersWithoutPassword();
    const personId = owner?.id ?? 0;
    const secret = await signIn.secret();
    expect(await signIn.secret()).toBe(secret);
    const session = { personId, begunAt: NIGHT, endsAt: after(NIGHT, 'PT1H') };
    await signIn.beginSession({ ...session, tokenHash: 'session' });
    expect((await signIn.session('session', NIGHT))?.id).toBe(personId);
    expect(await signIn.session('session', after(NIGHT, 'PT1H'))).toBe(null);
    await signIn.addPasswordLink({ tokenHash: 'older', personId, endsAt: after(NIGHT, 'PT24H') });
    await signIn.addPasswordLink({ tokenHash: 'link', personId, endsAt: after(NIGHT, 'PT24H') });
    expect(await signIn.passwordLink('older', NIGHT)).toBe(null);
    const uses = await Promise.all(
      Array.from({ length: 6 }, (_, n) => signIn.usePasswordLink('link', `hash ${n}`, NIGHT)),
    );
    expect(uses.filter((person) => person !== null)).toHaveLength(1);
    expect(await signIn.session('session', NIGHT)).toBe(null);
    expect(await signIn.ownersWithoutPassword()).toEqual([]);
    expect((await signIn.account('+19705550192'))?.password).toMatch(/^hash \d$/);
    expect(await signIn.account('+19705550155')).toBe(null);
  });

  it('tries are counted per account and forgotten after their time', async () => {
    const { signIn } = await aNight();
    const since = after(NIGHT, '-PT15M');
    expect(await signIn.noteTry('a', NIGHT, since)).toBe(1);
    expect(await signIn.noteTry('a', NIGHT, since)).toBe(2);
    expect(await signIn.noteTry('b', NIGHT, since)).toBe(1);
    expect(await signIn.noteTry('a', after(NIGHT, 'PT16M'), after(NIGHT, 'PT1M'))).toBe(1);
    await signIn.forgetTries('a');
    expect(await signIn.noteTry('a', NIGHT, since)).toBe(1);
  });
}
