import { beforeEach, describe, expect, it } from 'vitest';
import type { NewCallout } from '../../../src/desk/records.ts';
import type { OpenRecords } from '../../../src/records/open.ts';
import { after } from '../../../src/time/instant.ts';
import { GUEST, NIGHT, OTHER_GUEST, begun } from '../a-night.ts';

/** What the records keep of callouts that several guests share, of who passed, and of changes to the roster. */
export function sharedCallouts(records: () => OpenRecords): void {
  describe('a callout of several guests', () => {
    let ids: { first: number; other: number; property: number; people: number[] };
    beforeEach(async () => {
      const [first, other] = await records().transaction(async (tx) => [
        await begun(tx, GUEST),
        await begun(tx, OTHER_GUEST),
      ]);
      ids = await records().onTables(async ({ db }) => {
        const lodge = { name: 'Lodge', street_address: '1 Way', elevation_m: 2900, zone: 'America/Denver' };
        const property = await db
          .insertInto('properties')
          .values({ ...lodge, text_to_emergency: 0, emergency_number: '911' })
          .returning('id')
          .executeTakeFirstOrThrow();
        const people: number[] = [];
        for (const phone of ['+19705550190', '+19705550191']) {
          const person = { name: phone, phone, role: 'technician' } as const;
          people.push((await db.insertInto('people').values(person).returning('id').executeTakeFirstOrThrow()).id);
        }
        await db.insertInto('roster').values({ id: 1, zone: 'America/Denver' }).execute();
        return { first: first?.id ?? 0, other: other?.id ?? 0, property: property.id, people };
      });
    });

    const power = (changes: Partial<NewCallout> = {}): NewCallout => ({
      key: 'unit-1-power',
      conversationId: ids.first,
      matter: 'no power',
      urgency: 'tonight',
      status: 'ringing',
      brief: '',
      openedAt: NIGHT,
      cause: 'power at 1',
      ...changes,
    });

    it('is one of each conversation that has a part in it, in the order in which they joined', async () => {
      const shares = await records().transaction(async (tx) => {
        const { callout } = await tx.openCallout(power());
        const at = after(NIGHT, 'PT5M');
        await tx.joinCallout({ calloutId: callout.id, conversationId: ids.other, at });
        await tx.joinCallout({ calloutId: callout.id, conversationId: ids.other, at: after(at, 'PT5M') });
        await tx.markTold(callout.id, ids.other, at);
        expect((await tx.openCallouts(ids.other)).map(({ id }) => id)).toEqual([callout.id]);
        return tx.conversationsOf(callout.id);
      });
      expect(shares).toEqual([
        { conversationId: ids.first, joinedAt: NIGHT, toldAt: null },
        { conversationId: ids.other, joinedAt: after(NIGHT, 'PT5M'), toldAt: after(NIGHT, 'PT5M') },
      ]);
    });

    it('that is opened again by another conversation has that one in it as well', async () => {
      await records().transaction(async (tx) => {
        const { callout } = await tx.openCallout(power());
        expect(await tx.openCallout(power({ conversationId: ids.other }))).toMatchObject({ opened: false });
        expect((await tx.conversationsOf(callout.id)).map((share) => share.conversationId)).toEqual([
          ids.first,
          ids.other,
        ]);
      });
    });

    it('is found by its cause until it is done', async () => {
      await records().transaction(async (tx) => {
        const { callout } = await tx.openCallout(power());
        const found = async (cause: string) => (await tx.openCalloutsOfCause(ids.property, cause)).map(({ id }) => id);
        expect(await found('power at 1')).toEqual([callout.id]);
        expect(await found('power at 2')).toEqual([]);
        await tx.saveCallout({ ...callout, status: 'done', doneAt: NIGHT });
        expect(await found('power at 1')).toEqual([]);
      });
    });

    it('remembers who passed, in all their offers and in nobody else’s', async () => {
      const [anna = 0, ben = 0] = ids.people;
      const offers = await records().transaction(async (tx) => {
        const { callout } = await tx.openCallout(power());
        for (const personId of [anna, ben, anna]) {
          await tx.offerCallout({ calloutId: callout.id, personId, at: NIGHT, by: 'text' });
        }
        await tx.passCallout(callout.id, anna, NIGHT);
        return tx.offersOf(callout.id);
      });
      expect(offers.map((offer) => offer.passedAt)).toEqual([NIGHT, null, NIGHT]);
    });

    it('a swap is one row for a night and a pair, whoever is named first, until it is dropped', async () => {
      const [anna = 0, ben = 0] = ids.people;
      await records().transaction(async (tx) => {
        await tx.addSwap({ day: '2026-11-25', personId: ben, withId: anna });
        await tx.addSwap({ day: '2026-11-25', personId: anna, withId: ben });
        await tx.addSwap({ day: '2026-11-26', personId: anna, withId: ben });
        expect((await tx.roster()).swaps).toEqual([
          { day: '2026-11-25', personId: anna, withId: ben },
          { day: '2026-11-26', personId: anna, withId: ben },
        ]);
        await tx.dropSwaps('2026-11-25');
        expect((await tx.roster()).swaps).toHaveLength(1);
      });
    });

    it('since when texts to a phone are lost is kept beside what else is known of it', async () => {
      await records().transaction(async (tx) => {
        expect(await tx.textsLostAt(GUEST)).toBeNull();
        await tx.saveTextsLost(GUEST, NIGHT);
        await tx.savePhone({ phone: GUEST, lang: 'es', optedOutAt: null });
        expect([await tx.textsLostAt(GUEST), await tx.textsLostAt(OTHER_GUEST)]).toEqual([NIGHT, null]);
        await tx.saveTextsLost(GUEST, null);
        expect(await tx.textsLostAt(GUEST)).toBeNull();
      });
    });
  });
}
