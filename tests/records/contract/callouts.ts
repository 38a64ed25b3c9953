import { beforeEach, describe, expect, it } from 'vitest';
import type { NewCallout } from '../../../src/desk/records.ts';
import type { OpenRecords } from '../../../src/records/open.ts';
import { after } from '../../../src/time/instant.ts';
import { GUEST, NIGHT, OTHER_GUEST, begun, behind } from '../a-night.ts';

const danger = (conversationId: number, changes: Partial<NewCallout> = {}): NewCallout => ({
  key: `danger-${conversationId}`,
  conversationId,
  matter: 'breathing',
  urgency: 'danger',
  status: 'ringing',
  brief: 'Room 204: trouble breathing.',
  openedAt: NIGHT,
  ...changes,
});

export function callouts(records: () => OpenRecords): void {
  describe('a callout', () => {
    let conversationId: number;
    let technicianId: number;
    beforeEach(async () => {
      conversationId = (await records().transaction((tx) => begun(tx, GUEST))).id;
      technicianId = await records().onTables(async ({ db }) => {
        const person = { name: 'Bram Tiddlecote', phone: '+19705550190', role: 'technician' } as const;
        const { id } = await db.insertInto('people').values(person).returning('id').executeTakeFirstOrThrow();
        return id;
      });
    });

    it('that is opened again under its key is the same one, until it is done', async () => {
      const first = await records().transaction((tx) => tx.openCallout(danger(conversationId)));
      const again = await records().transaction((tx) => tx.openCallout(danger(conversationId, { brief: 'other' })));
      expect(first).toMatchObject({ opened: true, callout: { status: 'ringing', takenBy: null } });
      expect(again).toEqual({ opened: false, callout: first.callout });
      await records().transaction((tx) => tx.saveCallout({ ...first.callout, status: 'done', doneAt: NIGHT }));
      const next = await records().transaction((tx) => tx.openCallout(danger(conversationId)));
      expect(next.opened).toBe(true);
      expect(next.callout.id).not.toBe(first.callout.id);
    });

    it('that two open at the same moment is opened once', async () => {
      const both = await Promise.all(
        Array.from({ length: 4 }, () => records().transaction((tx) => tx.openCallout(danger(conversationId)))),
      );
      expect(both.filter(({ opened }) => opened)).toHaveLength(1);
      expect(new Set(both.map(({ callout }) => callout.id)).size).toBe(1);
    });

    it('that two take at the same moment is taken by one, and the other sees it', async () => {
      const { callout } = await records().transaction((tx) => tx.openCallout(danger(conversationId)));
      const status = await behind(
        records(),
        async (tx) => {
          const standing = (await tx.callout(callout.id)) ?? callout;
          return () => tx.saveCallout({ ...standing, status: 'taken', takenBy: technicianId, takenAt: NIGHT });
        },
        async (tx) => (await tx.callout(callout.id))?.status,
      );
      expect(status).toBe('taken');
    });

    it('comes back as it was saved', async () => {
      const { callout } = await records().transaction((tx) => tx.openCallout(danger(conversationId)));
      const done = {
        ...callout,
        status: 'done',
        takenBy: technicianId,
        takenAt: after(NIGHT, 'PT1M'),
        doneAt: after(NIGHT, 'PT1H'),
        note: 'Outlet on a wall switch.',
      } as const;
      await records().transaction((tx) => tx.saveCallout(done));
      expect(await records().read((tx) => tx.callout(callout.id))).toEqual(done);
      expect(await records().read((tx) => tx.callout(callout.id + 1))).toBeNull();
    });

    it('is listed newest first, for its conversation and for whom it was offered, until it is done', async () => {
      const [first, second, third] = await records().transaction(async (tx) => {
        const other = await begun(tx, OTHER_GUEST);
        const opened = [
          await tx.openCallout(danger(conversationId)),
          await tx.openCallout(danger(conversationId, { key: 'unit-1-power', urgency: 'morning', status: 'held' })),
          await tx.openCallout(danger(other.id)),
        ].map(({ callout }) => callout);
        for (const { id } of opened) {
          await tx.offerCallout({ calloutId: id, personId: technicianId, at: NIGHT, by: 'text' });
          await tx.offerCallout({ calloutId: id, personId: technicianId, at: after(NIGHT, 'PT1M'), by: 'call' });
        }
        return opened;
      });
      const listed = (): Promise<readonly (readonly (number | undefined)[])[]> =>
        records().transaction(async (tx) => [
          (await tx.openCallouts(conversationId)).map(({ id }) => id),
          (await tx.calloutsOfferedTo(technicianId)).map(({ id }) => id),
        ]);
      expect(await listed()).toEqual([
        [second?.id, first?.id],
        [third?.id, second?.id, first?.id],
      ]);
      await records().transaction(async (tx) => {
        if (second) await tx.saveCallout({ ...second, status: 'done', doneAt: NIGHT });
      });
      expect(await listed()).toEqual([[first?.id], [third?.id, first?.id]]);
      expect(await records().read((tx) => tx.offersOf(first?.id ?? 0))).toEqual([
        { personId: technicianId, at: NIGHT, by: 'text', passedAt: null },
        { personId: technicianId, at: after(NIGHT, 'PT1M'), by: 'call', passedAt: null },
      ]);
    });

    it('cannot be offered to someone who is not on the roster', async () => {
      const { callout } = await records().transaction((tx) => tx.openCallout(danger(conversationId)));
      const offered = records().transaction((tx) =>
        tx.offerCallout({ calloutId: callout.id, personId: technicianId + 1, at: NIGHT, by: 'text' }),
      );
      await expect(offered).rejects.toThrow(/foreign key/i);
    });
  });
}
